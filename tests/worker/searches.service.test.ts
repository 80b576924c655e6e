import { afterEach, expect, it } from 'vitest';
import type { SearchFindings } from '../../openapi/index.ts';
import type { SearchInput } from '../../worker/search-points.ts';
import { onQueue } from './backends.ts';
import { openSite, type Site, small, until } from './harness.ts';

/** Dodecahedra, of which a mass and a size are wanted; a few milliseconds each. */
async function searchInput(target: { min: number; max: number }, more: Partial<SearchInput> = {}): Promise<SearchInput> {
  const { parameterSet, ...rest } = await small(0);
  const targets = [
    { quantity: 'massG', ...target },
    { quantity: 'outsideDiameterMm', min: 29, max: 31 },
  ];
  return {
    evaluation: { ...rest, parameterSet, reference: { ...REFERENCE, targets } },
    free: [
      { path: 'carrier.outsideDiameterMm', min: 10, max: 40 },
      { path: 'layers.0.strutDiameterMm', min: 0.5, max: 4, step: 0.01 },
    ],
    constraints: { printable: false, limits: [] },
    objective: 'massG',
    ...more,
  };
}
const REFERENCE = { source: '', edition: '', status: '', inflation: null, dropHeightMm: null, peakForceN: null };

onQueue('a search', (backend) => {
  let site: Site;
  afterEach(() => site.close());

  const begin = async (input: SearchInput, total = 40) =>
    (await site.records.undertakings.create(site.teamId, { kind: 'search', name: 'ball', input, total })).id;
  const record = async (id: string) => (await site.records.undertakings.get(site.teamId, 'search', id))!;
  const ended = (id: string) => until('the search has ended', async () => ((await record(id)).finishedAt ? record(id) : null), 40_000);
  const found = async (id: string) => (await ended(id)).outcome as SearchFindings;
  const computations = async () => (await site.client.query('select count(*)::int as n from app.computation')).rows[0].n as number;

  it('meets its targets whoever is killed meanwhile, computes nothing twice, and finds in the history what it has tried before', async () => {
    site = await openSite(backend);
    const id = await begin(await searchInput({ min: 1.48, max: 1.52 }));
    const first = await site.worker();
    await until('some are tried', async () => (await record(id)).done >= 3);
    await first.stop('SIGKILL');
    await site.worker();
    const { best, ranking, sensitivities, endedBy, verdict } = await found(id);
    expect([endedBy, best!.meetsAll]).toEqual(['met', true]);
    expect(verdict).toMatch(/^Every target is met; /);
    expect(best!.targets.map(({ within }) => within)).toEqual([true, true]);
    const own = (await site.records.evaluations.get(site.teamId, best!.evaluationId))!;
    expect(own.result!.massProperties.massG).toBe(ranking[0].values.massG);
    expect(own.input.parameterSet).toMatchObject(best!.parameterSet);
    expect(sensitivities).toHaveLength(4);
    const { begun, done, failed } = await record(id);
    expect(done + failed).toBe(begun);
    expect(await computations()).toBe(done);
    const { items } = await site.records.evaluations.list(site.teamId, { undertakingIds: [id], limit: 100 });
    expect(items).toHaveLength(done);

    const again = await begin(await searchInput({ min: 1.48, max: 1.52 }));
    expect(await found(again)).toEqual({
      best,
      ranking,
      sensitivities,
      conflict: null,
      endedBy,
      verdict,
      trials: expect.anything(),
      underWay: [],
    });
    expect(await computations()).toBe(done);
  }, 60_000);

  it('goes on from the first solution to the lightest where it is to settle', async () => {
    site = await openSite(backend);
    const id = await begin(await searchInput({ min: 1.3, max: 1.7 }, { until: 'objective-settled' }));
    await site.worker();
    const { best, ranking, endedBy, verdict } = await found(id);
    expect([endedBy, best!.meetsAll]).toEqual(['met', true]);
    const masses = ranking.filter(({ meetsAll }) => meetsAll).map(({ values }) => values.massG!);
    // a step keeps a twentieth of the band's half from its edge, and the next that promises less than a thousandth is not taken
    expect(masses[0]).toBeLessThan(1.3 + 0.05 * 0.2 + 0.002);
    expect(verdict).toMatch(/ % less than that of the first set that met them\.$/);
  }, 60_000);

  it('says which of two targets forbid each other', async () => {
    site = await openSite(backend);
    const input = await searchInput({ min: 30, max: 31 });
    const id = await begin({ ...input, free: [input.free[0], { ...input.free[1], max: 2 }] });
    await site.worker();
    const { best, conflict, endedBy, verdict } = await found(id);
    expect([best!.meetsAll, endedBy]).not.toContain('met');
    expect(conflict, verdict).not.toBeNull();
    expect(verdict).toMatch(/^No set meets every target; .* massG/);
  }, 60_000);

  it('ends when it is cancelled, with what it has found', async () => {
    site = await openSite(backend);
    const id = await begin(await searchInput({ min: 30, max: 30.001 }));
    await site.worker();
    await until('some are tried', async () => (await record(id)).done >= 2);
    await site.records.undertakings.change(site.teamId, 'search', id, { status: 'cancelled' });
    const { status } = await ended(id);
    const { endedBy, verdict, best } = await found(id);
    // it may have come to its end first
    if (status === 'cancelled') expect([endedBy, verdict]).toEqual(['cancelled', expect.stringMatching(/^Cancelled\. \d+ of at most 40 /)]);
    expect(best).not.toBeNull();
    // a worker that is at one stops within moments
    await until('nothing of it is computed any more', async () => {
      const { rows } = await site.client.query(`select count(*)::int as n from app.computation where status in ('queued', 'running')`);
      return rows[0].n === 0;
    });
  }, 60_000);
});
