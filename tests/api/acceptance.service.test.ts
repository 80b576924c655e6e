import { randomUUID } from 'node:crypto';
import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { twoSidedFactor } from '../../worker/engine/probability/index.ts';
import { openSite, type Person, type Site } from './site.ts';
import { enter, enterPrints, massOf, printedDesign } from './test-house.ts';

let site: Site;
let coach: Person;
beforeAll(async () => {
  site = await openSite();
  coach = await site.person();
  await site.call(coach, 'POST', '/v1/references', { body: REFERENCE });
});
afterAll(() => site.close());

const REFERENCE = {
  key: 'league',
  targets: [
    { quantity: 'massG', min: 290, max: 330 },
    { quantity: 'rebound.reboundHeightMm.mean', min: 1000 },
    { quantity: 'totalPerPart', max: 30 },
    { quantity: 'circumferenceMm', target: 510 },
  ],
  dropHeightMm: 1800,
};
const decide = (body: object, who = coach) => site.call(who, 'POST', '/v1/acceptances', { body: { reference: 'league', ...body } });
let prints = 0;
/** A version of a new design with a print for each mass, and a drop of each from 1800 mm. */
async function measuredVersion(masses: number[], rebounds: number[] = [], more: object = {}) {
  const { versions, designId } = await printedDesign(site, coach);
  const serials = Array.from({ length: Math.max(masses.length, rebounds.length, 1) }, () => `R-${prints++}`);
  await enterPrints(site, coach, versions[0], serials, more);
  for (const [k, grams] of masses.entries()) await enter(site, coach, massOf(serials[k], grams));
  for (const [k, height] of rebounds.entries()) await enter(site, coach, dropOf(serials[k], height));
  return { versionId: versions[0], designId, serials };
}
const dropOf = (serial: string, height: number, dropHeight = 1800) => ({
  ...massOf(serial),
  values: undefined,
  ...{ kind: 'rebound', unit: 'mm', dropHeight, drops: [{ bounces: [height] }] },
});
const lifeOf = (serial: string, count: number, cracked: boolean) => ({
  ...massOf(serial),
  ...{ kind: 'durability', unit: undefined, values: undefined, counted: 'impacts', count, cracked },
});

describe('a decision', () => {
  test('accepts what lies within, says what is said, and keeps what it rests on', async () => {
    const masses = [309, 310, 311, 310.5, 309.5, 310];
    const { versionId, designId, serials } = await measuredVersion(masses, [1100, 1105, 1095, 1102, 1098, 1100]);
    const { status, body, headers } = await decide({ versionId, notes: 'first lot' });
    expect([status, headers.location]).toEqual([201, `/v1/acceptances/${body.id}`]);
    expect(body).toMatchObject({
      verdict: 'accepted',
      designId,
      version: 1,
      referenceRevision: 1,
      notes: 'first lot',
      unjudged: ['totalPerPart', 'circumferenceMm'],
    });
    const [mass, rebound] = body.targets;
    expect(mass).toMatchObject({
      quantity: 'massG',
      verdict: 'accepted',
      more: null,
      statement: '95 % of parts within 290 to 330 with 90 % confidence, parts taken as normally distributed',
      measured: { prints: 6, mean: 310, deviation: Math.sqrt(0.5) },
    });
    const factor = twoSidedFactor({ n: 6, p: 0.95 }, 0.9);
    expect(mass.interval).toEqual({ factor, from: 310 - factor * Math.sqrt(0.5), to: 310 + factor * Math.sqrt(0.5) });
    expect(rebound).toMatchObject({ quantity: 'reboundHeightMm', min: 1000, max: null, interval: { to: null } });
    expect(body.evidence).toHaveLength(12);
    expect(body.evidence[0]).toMatchObject({ serial: serials[0], quantities: { massG: [309] } });
    expect((await site.call(coach, 'GET', `/v1/acceptances/${body.id}`)).body).toEqual(body);
  });

  test('needs more where too little is known, and tells how many', async () => {
    const nothing = await measuredVersion([]);
    expect((await decide({ versionId: nothing.versionId })).body).toMatchObject({
      verdict: 'needs-more',
      targets: [{ more: 2, measured: null, interval: null }, { more: 2 }],
    });
    const few = await measuredVersion([305, 310, 317], [1100, 1101, 1102]);
    const [mass] = (await decide({ versionId: few.versionId })).body.targets;
    expect(mass).toMatchObject({ verdict: 'needs-more' });
    // mean 310.67, deviation 6.03: 3.20 deviations to the nearer limit, for which eight parts are enough (k 2.97), seven (3.16)... as computed.
    const n = 3 + mass.more;
    const away = (330 - mass.measured.mean) / mass.measured.deviation;
    expect(twoSidedFactor({ n, p: 0.95 }, 0.9)).toBeLessThanOrEqual(away);
    expect(twoSidedFactor({ n: n - 1, p: 0.95 }, 0.9)).toBeGreaterThan(away);
  });

  test('rejects what lies outside, whatever else is met', async () => {
    const { versionId } = await measuredVersion([340, 341, 342, 340], [1100, 1101, 1102, 1100]);
    const { verdict, targets } = (await decide({ versionId })).body;
    expect([verdict, targets[0].verdict, targets[1].verdict]).toEqual(['rejected', 'rejected', 'accepted']);
  });

  test('about the mean is another statement, of narrower intervals', async () => {
    const { versionId } = await measuredVersion([300, 310, 320, 305, 315], [1100, 1101, 1102, 1100, 1101]);
    expect((await decide({ versionId })).body.targets[0].verdict).toBe('needs-more');
    const { targets } = (await decide({ versionId, statement: 'mean', confidencePct: 95 })).body;
    expect(targets[0]).toMatchObject({
      verdict: 'accepted',
      statement: 'the mean of all parts within 290 to 330 with 95 % confidence, parts taken as normally distributed',
    });
  });

  test('reads drops from the height of the reference alone, and parts of the material and finishing that are asked for', async () => {
    const { versionId, serials } = await measuredVersion([310, 311, 310], [1100, 1101, 1102]);
    await enter(site, coach, dropOf(serials[0], 500, 900));
    expect((await decide({ versionId })).body.targets[1].measured).toMatchObject({ prints: 3, readings: 3, leftOut: 1, mean: 1101 });
    const { body } = await decide({ versionId, finishing: 'dyeing' });
    expect([body.verdict, body.evidence]).toEqual(['needs-more', []]);
    expect((await decide({ versionId, material: 'tpu-soft', finishing: 'none' })).body.targets[0].measured.prints).toBe(3);
  });

  test('on durability is exact by the binomial distribution: each part once, early cracks count, early stops do not', async () => {
    const durability = { counted: 'impacts', atLeast: 5000, reliabilityPct: 90 };
    const { versionId, serials } = await measuredVersion(Array(8).fill(310), Array(8).fill(1100));
    for (const serial of serials.slice(0, 7)) await enter(site, coach, lifeOf(serial, 6000, serial === serials[0]));
    await enter(site, coach, lifeOf(serials[7], 100, false));
    const first = (await decide({ versionId, durability })).body;
    // Seven of seven: 0.1^(1/7) = 71.97 %; 22 without a failure show 90 % with 90 % confidence.
    expect(first.durability).toMatchObject({ verdict: 'needs-more', passed: 7, failed: 0, undecided: 1, more: 15 });
    expect(first.durability.reliabilityPct.from).toBeCloseTo(71.9686, 3);
    expect(first.verdict).toBe('needs-more');
    for (const [k, count] of [4000, 3000, 200, 100].entries()) await enter(site, coach, lifeOf(serials[k], count, true));
    const second = (await decide({ versionId, durability })).body;
    expect(second.durability).toMatchObject({ verdict: 'rejected', passed: 3, failed: 4, more: null });
    expect(second.verdict).toBe('rejected');
  });

  test('stays as it was, whatever is archived later and whoever tries', async () => {
    const { versionId } = await measuredVersion([310, 311], [1100, 1101]);
    const colleague = await site.person('member', coach.teamId);
    const made = (await decide({ versionId }, colleague)).body;
    expect(made.decidedBy.name).toBe('referee');
    for (const { measurementId } of made.evidence) await site.call(coach, 'DELETE', `/v1/measurements/${measurementId}`);
    expect((await site.call(coach, 'GET', `/v1/acceptances/${made.id}`)).body).toEqual(made);
    expect((await decide({ versionId })).body.evidence).toEqual([]);
    const sql = new Client({ connectionString: site.databaseUrl });
    await sql.connect();
    for (const change of ["update app.acceptance set verdict = 'accepted'", 'delete from app.acceptance'])
      await expect(sql.query(change)).rejects.toThrow('rows of acceptance never change');
    await sql.end();
  });

  test('is listed by version and verdict, for the team alone', async () => {
    const { versionId, designId } = await measuredVersion([340, 341, 342]);
    const made = (await decide({ versionId })).body;
    for (const query of [`versionId=${versionId}`, `designId=${designId}&verdict=${made.verdict}`]) {
      const { items } = (await site.call(coach, 'GET', `/v1/acceptances?${query}`)).body;
      expect(items.map(({ id }: { id: string }) => id)).toEqual([made.id]);
    }
    const other = await site.person();
    expect((await site.call(other, 'GET', '/v1/acceptances')).body.items).toEqual([]);
    expect((await site.call(other, 'GET', `/v1/acceptances/${made.id}`)).status).toBe(404);
  });

  test.each([
    ['an unknown version', () => ({ versionId: randomUUID() }), '/versionId'],
    ['an unknown reference', (versionId: string) => ({ versionId, reference: 'nobody' }), '/reference'],
    ['an unknown revision', (versionId: string) => ({ versionId, referenceRevision: 7 }), '/referenceRevision'],
    ['a certainty', (versionId: string) => ({ versionId, confidencePct: 100 }), '/confidencePct'],
    ['a coverage below half', (versionId: string) => ({ versionId, coveragePct: 49 }), '/coveragePct'],
  ])('on %s is refused', async (_, body, pointer) => {
    const { versions } = await printedDesign(site, coach);
    const before = await site.rows();
    const refused = await decide(body(versions[0]));
    expect([refused.status, refused.body.errors[0].pointer]).toEqual([422, pointer]);
    expect(await site.rows()).toEqual(before);
  });

  test('on a reference without a band for anything that is measured is refused', async () => {
    await site.call(coach, 'POST', '/v1/references', { body: { key: 'cheap', targets: [{ quantity: 'totalPerPart', max: 30 }] } });
    const { versions } = await printedDesign(site, coach);
    expect((await decide({ versionId: versions[0], reference: 'cheap' })).body.errors[0].pointer).toBe('/reference');
  });
});
