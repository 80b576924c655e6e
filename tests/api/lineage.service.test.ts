import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exampleRequest } from '../../openapi/examples.ts';
import { ENGINE_VERSION } from '../../openapi/index.ts';
import { finish, resultWith } from './finished.ts';
import { openSite, type Person, type Site } from './site.ts';
import { enter, enterPrints, massOf } from './test-house.ts';

let site: Site;
let coach: Person;
beforeAll(async () => {
  site = await openSite();
  coach = await site.person();
});
afterAll(() => site.close());

const { parameterSet, ...conditions } = exampleRequest;
const designOf = async (name: string) => (await site.call(coach, 'POST', '/v1/designs', { body: { name } })).body.id as string;
const versionOf = async (design: string, outerMm: number, more: object = {}) => {
  const [outer, ...layers] = parameterSet.layers;
  const set = { ...parameterSet, layers: [{ ...outer, strutDiameterMm: outerMm }, ...layers] };
  return (await site.call(coach, 'POST', `/v1/designs/${design}/versions`, { body: { parameterSet: set, ...more } })).body;
};
const evaluated = async (versionId: string, massG: number, reference: string | null = 'handball-size-1') => {
  const { id } = (await site.call(coach, 'POST', '/v1/evaluations', { body: { ...conditions, reference, versionId } })).body;
  await finish(site.records, coach.teamId, id, resultWith({ massG }));
  return id as string;
};
const lineage = (design: string, query = '', who = coach) => site.call(who, 'GET', `/v1/designs/${design}/lineage${query}`);

describe('the lineage of a design', () => {
  test('tells parents and followers over designs, what was changed, and what is known of each version', async () => {
    const [design, other] = [await designOf('League ball'), await designOf('Borrowed')];
    const origin = await versionOf(other, 4);
    const first = await versionOf(design, 4.2, { basedOn: origin.id, notes: 'Thicker outside\nsecond line', tags: ['for-print'] });
    const second = await versionOf(design, 4.2, { basedOn: first.id });
    const elsewhere = await versionOf(other, 4.4, { basedOn: first.id });
    await evaluated(first.id, 300);
    const newest = await evaluated(first.id, 312, null);
    await enterPrints(site, coach, first.id, ['L-1', 'L-2']);
    await enter(site, coach, massOf('L-1', 310, 311));
    await enter(site, coach, massOf('L-2', 309));
    const asked = { versionId: first.id, reference: 'handball-size-1', material: 'tpu-soft' };
    const decision = (await site.call(coach, 'POST', '/v1/acceptances', { body: asked })).body;
    const { status, body, headers } = await lineage(design);
    expect(status).toBe(200);
    const at = ({ id, designId, number }: typeof first) => ({ versionId: id, designId, number });
    const bare = { evaluation: null, prints: 0, measurements: 0, decision: null, followers: [], followerCount: 0 };
    expect(body.nextCursor).toBeNull();
    expect(body.items).toEqual([
      {
        ...{ id: second.id, number: 2, note: '', tags: [], createdAt: second.createdAt, ...bare },
        ...{ basedOn: { ...at(first), designName: 'League ball' }, changed: [] },
      },
      {
        ...{ id: first.id, number: 1, note: 'Thicker outside', tags: ['for-print'], createdAt: first.createdAt },
        basedOn: { ...at(origin), designName: 'Borrowed' },
        changed: [
          {
            ...{ path: 'layers.0.strutDiameterMm', left: 4, right: 4.2 },
            ...{ change: expect.closeTo(0.2, 12), changePct: expect.closeTo(5, 10) },
          },
        ],
        ...{ followers: [at(second), at(elsewhere)], followerCount: 2 },
        evaluation: expect.objectContaining({ evaluationId: newest, engineVersion: ENGINE_VERSION, verdict: expect.any(String) }),
        ...{ prints: 2, measurements: 2 },
        decision: { acceptanceId: decision.id, verdict: decision.verdict, createdAt: decision.createdAt },
      },
    ]);
    expect(body.items[1].evaluation.quantities.massG).toBe(312);
    expect((await site.call(coach, 'GET', `/v1/designs/${design}/lineage`, { headers: { 'if-none-match': headers.etag! } })).status).toBe(
      304,
    );
    // The origin has no parent, and its one follower lies in the other design.
    expect((await lineage(other)).body.items.at(-1)).toMatchObject({ basedOn: null, changed: null, followers: [at(first)] });
    // What is archived counts no longer.
    const [print] = (await site.call(coach, 'GET', `/v1/prints?versionId=${first.id}`)).body.items;
    await site.call(coach, 'DELETE', `/v1/prints/${print.id}`);
    expect((await lineage(design)).body.items[1]).toMatchObject({ prints: 1, measurements: 1 });
  });

  test('comes in pages, and is the same joined', async () => {
    const design = await designOf('Pages');
    for (let k = 0; k < 5; k++) await versionOf(design, 4 + k / 10);
    const whole = (await lineage(design)).body.items;
    const pages: unknown[] = [];
    for (let cursor: string | null = ''; cursor !== null; ) {
      const { body } = await lineage(design, `?limit=2${cursor && `&cursor=${cursor}`}`);
      expect(body.items.length).toBeLessThanOrEqual(2);
      pages.push(...body.items);
      cursor = body.nextCursor;
    }
    expect(pages).toEqual(whole);
    expect(whole.map(({ number }: { number: number }) => number)).toEqual([5, 4, 3, 2, 1]);
    expect(await lineage(design, '?limit=501')).toMatchObject({ status: 400, body: { errors: [{ pointer: '/limit', value: '501' }] } });
  });

  test('is not shown to another team', async () => {
    const design = await designOf('Ours');
    expect((await lineage(design, '', await site.person())).status).toBe(404);
    expect((await lineage(randomUUID())).status).toBe(404);
  });
});
