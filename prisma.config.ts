import { defineConfig } from 'prisma/config';

/** For the command line of the official tool only; the service applies its own migrations (prisma/migrate.ts). */
export default defineConfig({
  schema: 'prisma/schema.prisma',
  migrations: { path: 'prisma/migrations' },
  datasource: { url: process.env.DATABASE_URL ?? '' },
});
