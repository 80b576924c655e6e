import { afterEach, beforeEach, expect, it } from 'vitest';
import { onQueue } from './backends.ts';
import { large, openSite, type Site, small, until, type WorkerProcess } from './harness.ts';

onQueue('an interrupted run', (backend) => {
  let site: Site;
  let worker: WorkerProcess;
  beforeEach(async () => {
    site = await openSite(backend);
    worker = await site.worker();
  });
  afterEach(() => site.close());

  const row = async (id: string) => {
    const { rows } = await site.client.query('SELECT status, attempts, stage, result FROM app.computation WHERE id = $1', [id]);
    return rows[0] as { status: string; attempts: number; stage: string | null; result: unknown };
  };
  const startLarge = async (k: number) => {
    const evaluation = await site.submit(await large(k));
    await until('it runs and tells its stage', async () => (await row(evaluation.computationId)).stage !== null);
    return evaluation;
  };

  it('is cancelled, running or queued, long before it would have ended, and says so', async () => {
    const running = await startLarge(0);
    const queued = await site.submit(await small(1));
    await site.records.evaluations.cancel(site.teamId, queued.id);
    await site.records.evaluations.cancel(site.teamId, running.id);
    await until('the row is cancelled', async () => (await row(running.computationId)).status === 'cancelled');
    expect(await row(running.computationId)).toMatchObject({ status: 'cancelled', result: null });

    const next = await site.submit(await small(2));
    await until('the worker goes on', async () => (await row(next.computationId)).status === 'done');
    expect(await row(queued.computationId)).toMatchObject({ status: 'cancelled', attempts: 0, result: null });
    expect((await site.records.evaluations.get(site.teamId, running.id))?.status).toBe('cancelled');
    expect((await site.records.evaluations.get(site.teamId, queued.id))?.status).toBe('cancelled');
  });

  it('is given back without a charged attempt when the worker drains, and done by the next', async () => {
    const evaluation = await startLarge(3);
    expect(await worker.stop('SIGTERM')).toBe(0);
    expect(await row(evaluation.computationId)).toMatchObject({ status: 'queued', attempts: 0, result: null });
    expect(await site.dispatch.counts()).toEqual({ waiting: 1, active: 0, delayed: 0, failed: 0 });

    await site.worker();
    await until('it is done', async () => (await row(evaluation.computationId)).status === 'done');
    expect((await row(evaluation.computationId)).attempts).toBe(1);
  });

  it('is computed when it is wanted again after a cancellation', async () => {
    const input = await large(4);
    const evaluation = await site.submit(input);
    await until('it runs', async () => (await row(evaluation.computationId)).status === 'running');
    await site.records.evaluations.cancel(site.teamId, evaluation.id);
    expect((await site.submit(input)).computationId).toBe(evaluation.computationId);
    await until('it is done', async () => (await row(evaluation.computationId)).status === 'done');
  });
});
