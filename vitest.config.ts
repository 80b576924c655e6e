import { defineConfig } from 'vitest/config';

/**
 * unit: pure laws, no process and no database. reference: the checks against the outside world (`npm run verify` prints them as a table).
 * service: real PostgreSQL, queue and processes. long: what does not fit in five minutes.
 */
const project = (name: string, include: string[], extra = {}) => ({
  test: { name, include, exclude: ['**/node_modules/**', 'dist/**'], pool: 'forks' as const, testTimeout: 30_000, ...extra },
});

export default defineConfig({
  test: {
    allowOnly: false,
    projects: [
      project('unit', ['tests/*.test.ts', 'tests/!(reference)/**/!(*.service|*.long).test.ts']),
      project('reference', ['tests/reference/**/!(*.long).test.ts'], { testTimeout: 60_000 }),
      project('service', ['tests/**/*.service.test.ts'], {
        globalSetup: ['tests/support/database-server.ts'],
        testTimeout: 60_000,
        hookTimeout: 60_000,
      }),
      project('long', ['tests/**/*.long.test.ts'], {
        globalSetup: ['tests/support/database-server.ts'],
        testTimeout: 900_000,
        hookTimeout: 120_000,
        fileParallelism: false,
      }),
    ],
  },
});
