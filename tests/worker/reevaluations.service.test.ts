import { afterEach, expect, it } from 'vitest';
import { ENGINE_VERSION } from '../../openapi/engine-version.ts';
import { onQueue } from './backends.ts';
import { openSite, type Site, small, until } from './harness.ts';

onQueue('a re-evaluation', (backend) => {
  let site: Site;
  afterEach(() => site.close());

  it('finds exactly the drift that was put into the stored numbers, also when its worker is killed on the way', async () => {
    site = await openSite(backend);
    const first = await site.worker();
    const ids: string[] = [];
    for (let k = 0; k < 12; k++) ids.push((await site.submit(await small(k))).id);
    const finished = async (id: string) => (await site.records.evaluations.get(site.teamId, id))!.status === 'done';
    await until('all are done', async () => (await Promise.all(ids.map(finished))).every(Boolean));
    // An older engine that found every third mass 4 % too low, and one of them 20 %.
    for (const table of ['computation', 'evaluation']) await site.client.query(`update app.${table} set engine_version = '1.0.0'`);
    const { rows } = await site.client.query(
      `update app.evaluation e set mass_g = mass_g * case when k = 4 then 0.8 else 0.96 end
       from unnest($1::uuid[]) with ordinality as given(id, k) where e.id = given.id and k % 3 = 1 returning e.id, k`,
      [ids],
    );
    expect(rows).toHaveLength(4);
    const input = { selection: {}, engineVersion: ENGINE_VERSION, upToDate: 0 };
    const made = { kind: 'reevaluation' as const, name: '', input, total: ids.length, earlier: ids };
    const { id } = await site.records.undertakings.create(site.teamId, made);
    await until('some are done', async () => (await site.records.undertakings.progress(id)).counts.done > 0);
    await first.stop('SIGKILL');
    // Soon puts back on the queue what the killed one may have begun without adding it there.
    await site.worker({ SWEEP_AFTER_MS: '2000' });
    const record = await until('it has ended', async () => {
      const now = (await site.records.undertakings.get(site.teamId, 'reevaluation', id))!;
      return now.finishedAt && now;
    });
    expect(record).toMatchObject({ status: 'done', done: 12, failed: 0, engineVersions: { [ENGINE_VERSION]: 12 } });
    const { drift } = site.records.reevaluations;
    const { quantities, ...rest } = await drift(id);
    expect(rest).toMatchObject({ pairs: 12, verdicts: { count: 0 }, newFailures: { count: 0 }, pastFailures: { count: 0 } });
    const moved = quantities.filter((each) => each.moved > 0);
    expect(moved).toHaveLength(1);
    // 1 / 0.96 and 1 / 0.8; rounding of one multiplication and one division leaves 1e-13.
    expect(moved[0]).toMatchObject({ quantity: 'massG', compared: 12, moved: 4, largest: { evaluationId: ids[3] } });
    expect(moved[0].medianPct).toBeCloseTo(100 / 0.96 - 100, 10);
    expect(moved[0].largest!.changePct).toBeCloseTo(25, 10);
    const { rows: counted } = await site.client.query(
      `select engine_version, count(*)::int as n, max(attempts) <= 2 as once from app.computation group by 1 order by 1`,
    );
    expect(counted).toEqual([
      { engine_version: '1.0.0', n: 12, once: true },
      { engine_version: ENGINE_VERSION, n: 12, once: true },
    ]);
  }, 60_000);
});
