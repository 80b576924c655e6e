import { afterEach, expect, it } from 'vitest';
import type { BatchInput } from '../../worker/batch-points.ts';
import { batchUndertaking } from '../../worker/batches.ts';
import { onQueue } from './backends.ts';
import { openSite, type Site, small, until } from './harness.ts';

/** A worker for what does not depend on the engine: the window of a batch is many points. */
const READY = 'tests/worker/ready-worker.mjs';

/** Dodecahedra of 10 sizes; the last strut is thicker than the edge of the smaller ones, which is refused. */
async function batchInput(more: Partial<BatchInput> = {}): Promise<BatchInput> {
  const { parameterSet, ...rest } = await small(0);
  return {
    evaluation: { parameterSet, ...rest },
    vary: [
      { path: 'carrier.outsideDiameterMm', from: 10, to: 20, steps: 10 },
      { path: 'layers.0.strutDiameterMm', values: [0.8, 1, 4.2] },
    ],
    sampling: { kind: 'grid', seed: 1 },
    stretches: [30],
    ...more,
  };
}

onQueue('a batch', (backend) => {
  let site: Site;
  afterEach(() => site.close());

  const begin = async (more: Partial<BatchInput> = {}, when: { startAt?: Date; finishBy?: Date; repeatAt?: Date } = {}) => {
    const input = await batchInput(more);
    const total = input.stretches.reduce((sum, each) => sum + each, 0);
    return (await site.records.undertakings.create(site.teamId, { kind: 'batch', name: 'sizes', input, total, ...when })).id;
  };
  const batch = async (id: string) => (await site.records.undertakings.get(site.teamId, 'batch', id))!;
  const ended = (id: string, within?: number) =>
    until('the batch has ended', async () => ((await batch(id)).finishedAt ? batch(id) : null), within);

  it('ends with every point once, whoever is killed meanwhile; refused points are members that failed', async () => {
    site = await openSite(backend);
    const id = await begin();
    const first = await site.worker();
    await until('some are done', async () => (await batch(id)).done >= 10);
    await first.stop('SIGKILL');
    await site.worker();
    const { status, done, failed, cancelled, begun } = await ended(id);
    // edge of a dodecahedron of radius R: 0.7136 R; 4.2 mm is thicker than it up to R = 7.9 mm or so
    expect([status, done + failed, cancelled, begun]).toEqual(['done', 30, 0, 30]);
    expect(failed).toBeGreaterThan(2);
    expect(failed).toBeLessThan(10);
    const { rows } = await site.client.query(`select count(*)::int as evaluations, count(distinct input -> 'parameterSet')::int as sets,
      (select count(*)::int from app.member where evaluation_id is not null) as members,
      (select count(*)::int from app.computation where attempts > 2) as repeated from app.evaluation where status = 'done'`);
    expect(rows[0]).toEqual({ evaluations: done, sets: done, members: done, repeated: 0 });
    expect((await site.records.undertakings.refused(id))[0].errors[0]).toMatchObject({ pointer: '/parameterSet/layers/0/strutDiameterMm' });
    const page = await site.records.evaluations.list(site.teamId, { undertakingIds: [id], limit: 200 });
    expect(page.items).toHaveLength(done);
  }, 60_000);

  it('stops for a while, goes on, and ends early when cancelled', async () => {
    site = await openSite(backend);
    const id = await begin({
      sampling: { kind: 'sobol', points: 400, seed: 1 },
      vary: [{ path: 'carrier.outsideDiameterMm', from: 10, to: 20 }],
      stretches: [400],
    });
    await site.worker({}, READY);
    await until('some are done', async () => (await batch(id)).done >= 5);
    await site.records.undertakings.change(site.teamId, 'batch', id, { status: 'paused' });
    const open = async () => {
      const { begun, done, failed } = await batch(id);
      return begun - done - failed;
    };
    await until('what was begun has ended', async () => (await open()) === 0, 60_000);
    const { begun } = await batch(id);
    expect(begun).toBeLessThan(400);
    await site.records.undertakings.change(site.teamId, 'batch', id, { status: 'running' });
    await until('it goes on', async () => (await batch(id)).begun > begun);
    await site.records.undertakings.change(site.teamId, 'batch', id, { status: 'cancelled' });
    const last = await ended(id);
    expect([last.status, last.done + last.failed + last.cancelled]).toEqual(['cancelled', last.begun]);
    const { rows } = await site.client.query(`select count(*)::int as n from app.computation where status in ('queued', 'running')`);
    expect(rows[0].n).toBe(0);
  }, 120_000);

  it('leaves alone what somebody asked for by itself when it is cancelled, and lets it go before what is queued', async () => {
    site = await openSite(backend);
    const sizes: BatchInput['vary'] = [{ path: 'carrier.outsideDiameterMm', from: 10, to: 20 }];
    const id = await begin({ sampling: { kind: 'sobol', points: 40, seed: 1 }, vary: sizes, stretches: [40] });
    // One step by hand: points are queued and no worker takes them.
    const add = async (ids: readonly string[]) => {
      for (const each of ids) await site.dispatch.dispatch(each, { urgency: 'batch', teamOutstanding: 0 });
    };
    const undertaking = batchUndertaking({ records: site.records, queue: { add } });
    await undertaking.advance(id);
    const { begun } = await batch(id);
    expect(begun).toBe(40);
    const newest = (
      await site.client.query('select input, computation_id as of from app.evaluation order by created_at desc, id desc limit 1')
    ).rows[0];
    const asked = await site.submit(newest.input);
    expect(asked.computationId).toBe(newest.of);
    await site.dispatch.hasten(asked.computationId, { teamOutstanding: 40 });

    await site.records.undertakings.change(site.teamId, 'batch', id, { status: 'cancelled' });
    for (let step = 0; step < 3; step++) await undertaking.advance(id);
    expect(await batch(id)).toMatchObject({ status: 'cancelled', done: 0, failed: 0, cancelled: 40 });
    expect((await site.records.computations.counts()).queued).toBe(1);

    // The next batch of the same points waits behind it.
    const next = await begin({ sampling: { kind: 'sobol', points: 39, seed: 1 }, vary: sizes, stretches: [39] });
    await undertaking.advance(next);
    await site.worker({}, READY);
    await ended(next);
    const { rows } = await site.client.query('select id from app.computation order by started_at limit 1');
    expect(rows[0].id).toBe(asked.computationId);
  }, 120_000);

  it('begins when its time has come, ends at its last, and is repeated by the clock', async () => {
    site = await openSite(backend);
    const soon = new Date(Date.now() + 1500);
    const later = await begin({ stretches: [5] }, { startAt: soon });
    const late = await begin({ stretches: [5] }, { finishBy: new Date(Date.now() - 1) });
    const repeated = await begin({ ...{ stretches: [5], repeat: { everyHours: 1, until: '2100-01-01T00:00:00Z' } } } as never, {
      repeatAt: new Date(),
    });
    await site.worker();
    expect(await ended(late)).toMatchObject({ status: 'done', begun: 0, done: 0 });
    const { startedAt } = await ended(later);
    expect(startedAt!.getTime()).toBeGreaterThanOrEqual(soon.getTime());
    await ended(repeated);
    const all = await until('the repetition has ended', async () => {
      const { items } = await site.records.undertakings.list(site.teamId, 'batch', { limit: 10 });
      return items.length === 4 && items.every(({ finishedAt }) => finishedAt) ? items : null;
    });
    expect(all.filter(({ repeatAt }) => repeatAt)).toHaveLength(1);
    // four of the five points are legal; what had not changed was not computed again
    expect((await site.client.query('select count(*)::int as n from app.computation')).rows[0].n).toBe(4);
  }, 60_000);
});
