import { afterEach, beforeEach, expect, it } from 'vitest';
import { type Dispatch, openDispatch } from '../../api/queue.ts';
import { openWorkQueue, type WorkQueue } from '../../worker/queue.ts';
import { emptyDatabase, type TestDatabase } from '../support/database.ts';
import { clearPrefix, onQueue } from './backends.ts';
import { until } from './harness.ts';

onQueue('the order of jobs', (backend) => {
  let database: TestDatabase;
  let dispatch: Dispatch;
  let queue: WorkQueue;
  const taken: string[] = [];
  const redisPrefix = `test-order-${process.pid}`;

  beforeEach(async () => {
    taken.length = 0;
    database = await emptyDatabase();
    const shared = { databaseUrl: database.databaseUrl, redisPrefix, onError: () => undefined };
    const consuming = {
      concurrency: 1,
      lockMs: 30_000,
      stalledMs: 30_000,
      process: async (job: { data: { computationId: string } }) => note(job),
    };
    // Both at once, as the API and a worker start: the queue's tables are made once.
    [dispatch, queue] = await Promise.all([
      openDispatch({ ...shared, redisUrl: backend.redisUrl }),
      openWorkQueue({ ...shared, ...consuming, redisUrl: backend.redisUrl ?? null }),
    ]);
  });
  afterEach(async () => {
    await queue.close();
    await dispatch.close();
    await clearPrefix(backend, redisPrefix);
    await database.drop();
  });
  const note = (job: { data: { computationId: string } }) => void taken.push(job.data.computationId);

  it('lets a team with one run pass a team with many, and keeps one job per computation', async () => {
    for (let k = 0; k < 10; k++) await dispatch.dispatch(`busy-${k}`, { teamOutstanding: k });
    await dispatch.dispatch('calm-0', { teamOutstanding: 0 });
    for (let k = 0; k < 10; k++) await dispatch.dispatch(`busy-${k}`, { teamOutstanding: 0 });
    expect(await dispatch.counts()).toMatchObject({ waiting: 11 });

    queue.start();
    await until('all are taken', async () => taken.length === 11);
    expect(taken.slice(0, 3)).toEqual(['busy-0', 'calm-0', 'busy-1']);
    expect(new Set(taken).size).toBe(11);
  });

  it('adds again what fell off the queue, and nothing that is on it', async () => {
    await dispatch.dispatch('waiting', { teamOutstanding: 0 });
    await queue.addAgain(['waiting', 'lost']);
    expect(await dispatch.counts()).toMatchObject({ waiting: 2 });
    queue.start();
    await until('both are taken', async () => taken.length === 2);
    expect(taken.sort()).toEqual(['lost', 'waiting']);
  });
});
