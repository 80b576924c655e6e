import { describe, it } from 'vitest';
import type { Backend } from './harness.ts';

/**
 * Runs the tests on the queue in PostgreSQL, and on Redis when TEST_REDIS_URL names one. Without it the report lists what was left out
 * and why.
 */
export function onEachBackend(title: string, tests: (backend: Backend) => void): void {
  describe(`${title} (queue in PostgreSQL)`, () => tests({ name: 'postgresql' }));
  const redisUrl = process.env.TEST_REDIS_URL;
  if (redisUrl) {
    describe(`${title} (queue in Redis)`, () => tests({ name: 'redis', redisUrl }));
    return;
  }
  const reason = 'TEST_REDIS_URL is not set';
  it(`${title} (queue in Redis): left out, ${reason}`, ({ skip }) => {
    process.stderr.write(`left out: ${title} (queue in Redis), because ${reason}\n`);
    skip(reason);
  });
}
