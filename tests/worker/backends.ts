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

/** Runs the tests on the queue in Redis where TEST_REDIS_URL names one, else on the queue in PostgreSQL; the report says which was left out and why. */
export function onQueue(title: string, tests: (backend: Backend) => void): void {
  const redisUrl = process.env.TEST_REDIS_URL;
  const [done, left, reason] = redisUrl
    ? ['Redis', 'PostgreSQL', 'TEST_REDIS_URL is set']
    : ['PostgreSQL', 'Redis', 'TEST_REDIS_URL is not set'];
  describe(`${title} (queue in ${done})`, () => tests(redisUrl ? { name: 'redis', redisUrl } : { name: 'postgresql' }));
  it(`${title} (queue in ${left}): left out, ${reason}`, ({ skip }) => {
    process.stderr.write(`left out: ${title} (queue in ${left}), because ${reason}\n`);
    skip(reason);
  });
}
