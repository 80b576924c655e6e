import { Redis } from 'ioredis';
import { describe, it } from 'vitest';

/** A queue backend to test on; over Redis every test has key prefixes of its own. */
export interface Backend {
  name: 'postgresql' | 'redis';
  redisUrl?: string;
}

/** Removes what a test left in Redis under its prefix. */
export async function clearPrefix({ redisUrl }: Backend, prefix: string): Promise<void> {
  if (!redisUrl) return;
  const redis = new Redis(redisUrl);
  for await (const keys of redis.scanStream({ match: `${prefix}:*`, count: 1000 })) if (keys.length > 0) await redis.unlink(keys);
  await redis.quit();
}

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
