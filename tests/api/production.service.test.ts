import { pino } from 'pino';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { keyRecord, mintKey } from '../../api/api-key.ts';
import { type Closers, openClosers } from '../../api/closers.ts';
import { readEnvironment } from '../../api/environment.ts';
import { openService } from '../../api/service.ts';
import { exampleRequest } from '../../openapi/examples.ts';
import { emptyDatabase, type TestDatabase } from '../support/database.ts';
import { ask } from './ask.ts';
import { bearer } from './site.ts';

let database: TestDatabase;
let closers: Closers;
beforeEach(async () => {
  database = await emptyDatabase();
  closers = openClosers();
});
afterEach(async () => {
  await closers.closeAll();
  await database.drop();
});

/** The API process as it is in production, on a free port, and a key of it. */
async function openProduction(more: NodeJS.ProcessEnv) {
  const source = { DATABASE_URL: database.databaseUrl, PORT: '0', REDIS_PREFIX: `test-${process.pid}-${Date.now()}`, ...more };
  const environment = readEnvironment(source, { database: 'required' });
  const { records, listen } = await openService(
    { ...environment, databaseUrl: database.databaseUrl },
    { log: pino({ level: 'silent' }), closers },
  );
  const key = mintKey();
  await records.keys.bootstrap({
    teamName: 'Harbour Schools League',
    key: keyRecord(key, { name: 'first', role: 'admin' }),
    unless: 'same-key',
  });
  const url = await listen();
  const timed = async (path: string, { as = key, body }: { as?: string; body?: object } = {}) => {
    const began = performance.now();
    const answer = await ask(url, { method: body ? 'POST' : 'GET', url: path, headers: bearer({ key: as }), body });
    return { ...answer, ms: performance.now() - began };
  };
  return { ask: timed, records };
}

describe('with a Redis that is away', () => {
  // Nothing listens on port 9 (discard) of a test machine.
  const REDIS_URL = 'redis://127.0.0.1:9';

  test('it starts, is alive but not ready, reads at once, and takes evaluations, which the sweeper queues later', async () => {
    const { ask, records } = await openProduction({ REDIS_URL });
    expect((await ask('/livez')).status).toBe(200);
    expect(await ask('/readyz')).toMatchObject({ status: 503, body: { code: 'unavailable', detail: 'The queue does not answer' } });
    const read = await ask('/v1/materials');
    expect(read.status).toBe(200);
    // The counters of the rate limits are in Redis too; nobody waits for them.
    expect(read.ms).toBeLessThan(1000);
    const posted = await ask('/v1/evaluations', { body: exampleRequest });
    expect(posted).toMatchObject({ status: 202, body: { status: 'queued' } });
    // The queue's own limit is two seconds.
    expect(posted.ms).toBeLessThan(3500);
    expect(await records.computations.stale({ queuedMs: 0, silentMs: 60_000 })).toHaveLength(1);
  });
});

describe('with Redis', () => {
  const redisUrl = process.env.TEST_REDIS_URL;
  const onRedis = (title: string, body: (REDIS_URL: string) => Promise<void>) =>
    test(redisUrl ? title : `${title}: left out, TEST_REDIS_URL is not set`, async ({ skip }) => {
      if (!redisUrl) {
        process.stderr.write(`left out: ${title}, because TEST_REDIS_URL is not set\n`);
        return skip('TEST_REDIS_URL is not set');
      }
      await body(redisUrl);
    });

  onRedis('it is ready, and several processes count the requests of a key together', async (REDIS_URL) => {
    const settings = { REDIS_URL, RATE_LIMIT_PER_MINUTE: '4' };
    const first = await openProduction(settings);
    const second = await openProduction(settings);
    expect((await first.ask('/readyz')).status).toBe(200);
    const key = mintKey();
    const team = await first.records.teams.create({ name: 'Upper Harbour' });
    await first.records.keys.create(team.id, keyRecord(key, { name: 'shared', role: 'member' }));
    const statuses: number[] = [];
    for (let k = 0; k < 6; k++) statuses.push((await [first, second][k % 2].ask('/v1/materials', { as: key })).status);
    expect(statuses).toEqual([200, 200, 200, 200, 429, 429]);
  });
});
