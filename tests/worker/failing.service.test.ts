import { afterEach, expect, it } from 'vitest';
import { openDispatch, QueueUnavailable } from '../../api/queue.ts';
import { large, openSite, type Site, small, until } from './harness.ts';

let site: Site;
afterEach(() => site?.close());

const ended = (id: string) =>
  until('the evaluation ends', async () => {
    const evaluation = await site.records.evaluations.get(site.teamId, id);
    return evaluation?.finishedAt ? evaluation : null;
  });

it('starves an engine thread three times, then fails with a code and nothing of the inside', async () => {
  site = await openSite({ name: 'postgresql' });
  const worker = await site.worker({ WORKER_MEMORY_MB: '64' });
  const { id } = await site.submit(await large(0));
  const after = await site.submit(await small(1));
  const evaluation = await ended(id);
  expect(evaluation).toMatchObject({ status: 'failed', result: null, error: { code: 'engine-out-of-memory' } });
  expect(JSON.stringify(evaluation.error)).not.toMatch(/worker\/|heap|at |node/);
  expect(worker.output().match(/"engine-out-of-memory"/g)).toHaveLength(3);
  expect((await ended(after.id)).status).toBe('done');
});

it('is found by the sweeper when the queue did not take the job', async () => {
  site = await openSite({ name: 'postgresql' });
  const dead = await openDispatch({ databaseUrl: site.databaseUrl, redisUrl: 'redis://127.0.0.1:1', onError: () => undefined });
  const asked = performance.now();
  const { id, computationId } = await site.submit(await small(0), { dispatched: false });
  await expect(dead.dispatch(computationId, { teamOutstanding: 0 })).rejects.toBeInstanceOf(QueueUnavailable);
  // A caller waits at most the two seconds a producer gives the queue.
  expect(performance.now() - asked).toBeLessThan(2_500);
  expect(await dead.ready()).toBe(false);
  await dead.close();
  expect(await site.dispatch.counts()).toMatchObject({ waiting: 0, delayed: 0 });

  await site.worker({ SWEEP_AFTER_MS: '1000' });
  expect((await ended(id)).status).toBe('done');
});

it('does not start with bad variables, and lists them all', async () => {
  site = await openSite({ name: 'postgresql' });
  await expect(site.worker({ WORKER_THREADS: 'many', LOG_LEVEL: 'loud' })).rejects.toThrow(
    /WORKER_THREADS is "many".*LOG_LEVEL is "loud"/s,
  );
});
