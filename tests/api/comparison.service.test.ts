import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Result } from '../../openapi/index.ts';
import { finish, resultWith } from './finished.ts';
import { openSite, type Person, type Site } from './site.ts';
import { enter, enterPrints, massOf, printedDesign } from './test-house.ts';

let site: Site;
let coach: Person;
beforeAll(async () => {
  site = await openSite();
  coach = await site.person();
});
afterAll(() => site.close());

/** A version's evaluation that is done, with this mass; half a percent of parts' scatter. */
async function evaluated(versionId: string, massG: number, more: object = {}): Promise<string> {
  const body = { versionId, material: 'tpu-soft', buildVolume: 'medium-polymer', ...more };
  const { id } = (await site.call(coach, 'POST', '/v1/evaluations', { body })).body;
  await finish(site.records, coach.teamId, id, withScatter(resultWith({ massG })));
  return id;
}
function withScatter(result: Result): Result {
  const { massG } = result.massProperties;
  const quantiles = [0.025, 0.975].map((share) => ({ share, value: massG * (1 + (share - 0.5) / 50), error: 0 }));
  const histogram = { from: 0, to: 1, counts: [] };
  const distribution = { count: 10, mean: massG, meanError: 0, deviation: 1, deviationError: 0, quantiles, histogram };
  const scatter = ['diameterScatterMm', 'partScatterMm', 'driftMm', 'scalePct', 'upScalePct', 'densityPct', 'modulusPct', 'directionPct'];
  const variation = { biasByAngle: [], ...Object.fromEntries(scatter.map((name) => [name, 0])) };
  const study = { seed: 1, quantities: { 'massProperties.massG': distribution }, targets: [], all: null, check: { parts: 0, errors: {} } };
  return { ...result, variation: { ...study, failedBounces: 0, variation, assumptions: [] } as unknown as Result['variation'] };
}
const compare = (designId: string, number: number, query = '') =>
  site.call(coach, 'GET', `/v1/designs/${designId}/versions/${number}/comparison${query}`);

describe('predicted beside measured', () => {
  test('of a version: the newest evaluation of the material, with its band, beside the mean over parts', async () => {
    const { designId, versions } = await printedDesign(site, coach);
    await evaluated(versions[0], 280);
    const newest = await evaluated(versions[0], 300, { tests: { depth: 'geometry', motion: {} } });
    await evaluated(versions[0], 500, { material: 'tpu-firm' });
    const finishing = [{ kind: 'cleaning', massChangeG: -1 }];
    await enterPrints(site, coach, versions[0], ['A-1', 'A-2', 'A-3'], { finishing });
    for (const [serial, ...grams] of [
      ['A-1', 301, 303],
      ['A-2', 300],
      ['A-3', 310],
    ] as [string, ...number[]][])
      await enter(site, coach, massOf(serial, ...grams));
    const { groups } = (await compare(designId, 1)).body;
    expect(groups).toMatchObject([
      {
        material: { key: 'tpu-soft', revision: 1 },
        finishing: 'cleaning',
        evaluation: { id: newest, material: 'tpu-soft', materialRevision: 1 },
      },
    ]);
    const [mass] = groups[0].quantities;
    expect(mass).toMatchObject({ quantity: 'massG', predicted: 299, finishing: -1, inside: false, printsInside: 1 });
    // 300 g with 0.95 % to either side, less a gram.
    expect(mass.band).toMatchObject({ of: ['variation'] });
    expect([mass.band.min, mass.band.max]).toEqual([expect.closeTo(296.15, 9), expect.closeTo(301.85, 9)]);
    expect(mass.measured).toMatchObject({ prints: 3, readings: 4, mean: 304, min: 300, max: 310 });
    expect([mass.difference, mass.differencePct]).toEqual([expect.closeTo(5, 9), expect.closeTo(500 / 299, 9)]);
  });

  test('is kept apart by finishing, and compared with the evaluation that is asked for', async () => {
    const { designId, versions } = await printedDesign(site, coach);
    const [first, second] = [
      await evaluated(versions[0], 290),
      await evaluated(versions[0], 300, { tests: { depth: 'geometry', motion: {} } }),
    ];
    await enterPrints(site, coach, versions[0], ['B-1']);
    await enterPrints(site, coach, versions[0], ['B-2'], { finishing: [{ kind: 'dyeing' }] });
    for (const serial of ['B-1', 'B-2']) await enter(site, coach, massOf(serial, 300));
    const predicted = async (query: string) =>
      (await compare(designId, 1, query)).body.groups.map((each: { finishing: string; quantities: { predicted: number }[] }) => [
        each.finishing,
        each.quantities[0].predicted,
      ]);
    expect(await predicted('')).toEqual([
      ['dyeing', 300],
      ['none', 300],
    ]);
    expect(await predicted(`?evaluationId=${first}`)).toEqual([
      ['dyeing', 290],
      ['none', 290],
    ]);
    const other = await printedDesign(site, coach);
    for (const id of [randomUUID(), await evaluated(other.versions[0], 1)]) {
      const refused = await compare(designId, 1, `?evaluationId=${id}`);
      expect(refused.body).toMatchObject({ status: 400, errors: [{ pointer: '/evaluationId' }] });
    }
    expect(second).not.toBe(first);
  });

  test('without an evaluation, and what was archived, says so and does not count', async () => {
    const { designId, versions } = await printedDesign(site, coach);
    await enterPrints(site, coach, versions[0], ['C-1', 'C-2']);
    const made = (await enter(site, coach, massOf('C-1', 300))).body;
    await enter(site, coach, massOf('C-2', 310));
    expect((await compare(designId, 1)).body.groups[0]).toMatchObject({
      evaluation: null,
      quantities: [{ predicted: null, band: null, inside: null, measured: { prints: 2, mean: 305 } }],
    });
    await site.call(coach, 'DELETE', `/v1/measurements/${made.id}`);
    expect((await compare(designId, 1)).body.groups[0].quantities[0].measured).toMatchObject({ prints: 1, mean: 310, deviation: null });
    const [{ id }] = (await site.call(coach, 'GET', '/v1/prints?serial=C-2')).body.items;
    await site.call(coach, 'DELETE', `/v1/prints/${id}`);
    expect((await compare(designId, 1)).body.groups).toEqual([]);
    expect((await compare(designId, 2)).status).toBe(404);
    expect((await site.call(await site.person(), 'GET', `/v1/designs/${designId}/comparison`)).status).toBe(404);
  });

  test('over the versions of a design shows whether predictions come closer', async () => {
    const { designId, versions } = await printedDesign(site, coach, 2);
    for (const [k, measured] of [330, 303].entries()) {
      await evaluated(versions[k], 300);
      await enterPrints(site, coach, versions[k], [`D-${k}`]);
      await enter(site, coach, massOf(`D-${k}`, measured));
    }
    const { quantities } = (await site.call(coach, 'GET', `/v1/designs/${designId}/comparison`)).body;
    expect(quantities).toMatchObject([
      {
        quantity: 'massG',
        points: [
          { number: 1, predicted: 300, measured: 330, inside: false },
          { number: 2, measured: 303, inside: false },
        ],
      },
    ]);
    expect(quantities[0].closerBy).toBeCloseTo(9, 9);
  });
});
