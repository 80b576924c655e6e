import type { PrismaClient } from './client/generated/client.ts';
import type { Teams } from './repositories.ts';

export function teamRepository(prisma: PrismaClient): Teams {
  return {
    create: ({ name }) => prisma.team.create({ data: { name } }),
    get: (id) => prisma.team.findUnique({ where: { id } }),
  };
}
