import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

/**
 * unit: pure laws, no process and no database. reference: the checks against the outside world (`npm run verify` prints them as a table).
 * service: real PostgreSQL, queue and processes. long: what does not fit in five minutes.
 */
const project = (name: string, include: string[], extra = {}) => ({
  test: { name, include, exclude: ['**/node_modules/**', 'dist/**'], pool: 'forks' as const, testTimeout: 30_000, ...extra },
});

/** No module keeps anything of its own, so test files may share what they import: a third less time. */
const sharing = { isolate: false };

export default defineConfig({
  test: {
    allowOnly: false,
    // Tests of processes mostly wait, so two cores have three files.
    maxWorkers: Math.ceil(1.5 * availableParallelism()),
    projects: [
      project('unit', ['tests/*.test.ts', 'tests/!(reference)/**/!(*.service|*.long).test.ts'], sharing),
      project('reference', ['tests/reference/**/!(*.long).test.ts'], { testTimeout: 60_000, ...sharing }),
      project('service', ['tests/**/*.service.test.ts'], {
        globalSetup: ['tests/support/database-server.ts'],
        testTimeout: 60_000,
        hookTimeout: 60_000,
        ...sharing,
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
