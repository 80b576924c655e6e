import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exampleRequest } from '../../openapi/examples.ts';
import { FILTERABLE } from '../../openapi/index.ts';
import { finish, resultWith } from './finished.ts';
import { openSite, type Person, type Site } from './site.ts';

let site: Site;
let referee: Person;
/** Ids of evaluations by their mass, in the order they were posted. */
const massOf = new Map<string, number>();
let versionId: string;
let designId: string;

const sized = (outsideDiameterMm: number) => ({ ...exampleRequest.parameterSet, carrier: { shape: 'sphere', outsideDiameterMm } });
const { parameterSet: _, ...conditions } = exampleRequest;

beforeAll(async () => {
  site = await openSite();
  referee = await site.person();
  designId = (await site.call(referee, 'POST', '/v1/designs', { body: { name: 'ball' } })).body.id;
  versionId = (await site.call(referee, 'POST', `/v1/designs/${designId}/versions`, { body: { parameterSet: sized(150) } })).body.id;
  const masses = [300, 310, 310, 320, 305, 290];
  for (const [k, massG] of masses.entries()) {
    const input = k === 0 ? { versionId } : { parameterSet: sized(150 + k) };
    const { id } = (await site.call(referee, 'POST', '/v1/evaluations', { body: { ...conditions, ...input } })).body;
    const made = resultWith({ massG, totalPerPart: 2 * massG });
    await finish(site.records, referee.teamId, id, {
      ...made,
      printability: { ...made.printability, verdict: massG < 300 ? 'fail' : 'pass' },
    });
    massOf.set(id, massG);
  }
  await site.call(referee, 'POST', '/v1/evaluations', { body: { ...conditions, parameterSet: sized(170) } });
});
afterAll(() => site.close());

const list = (query = '') => site.call(referee, 'GET', `/v1/evaluations${query}`);
const massesOf = async (query: string) =>
  (await list(query)).body.items.map((each: { quantities: { massG: number | null } }) => each.quantities.massG);

/** Every item of a list, page by page. */
async function pages(query: string, limit: number): Promise<string[]> {
  const ids: string[] = [];
  for (let cursor = ''; cursor !== 'null'; ) {
    const { body } = await list(`?limit=${limit}${query}${cursor && `&cursor=${cursor}`}`);
    expect(body.items.length).toBeLessThanOrEqual(limit);
    ids.push(...body.items.map((each: { id: string }) => each.id));
    cursor = String(body.nextCursor);
  }
  return ids;
}

describe('the history', () => {
  test('tells the newest first, with every number that filters', async () => {
    const { body } = await list();
    expect(body.items).toHaveLength(7);
    expect(body.items[0]).toMatchObject({ status: 'queued', verdict: null, quantities: { massG: null } });
    expect(body.items[6]).toMatchObject({
      status: 'done',
      verdict: 'pass',
      designId,
      versionId,
      version: 1,
      quantities: { massG: 300, totalPerPart: 600 },
    });
    expect(Object.keys(body.items[0].quantities).sort()).toEqual(Object.keys(FILTERABLE).sort());
  });

  test.each([
    ['?massG.gte=305&massG.lt=320&sort=massG', [305, 310, 310]],
    ['?massG.gt=310', [320]],
    ['?massG.lte=300&sort=-massG', [300, 290]],
    ['?massG.eq=3.1e2', [310, 310]],
    ['?totalPerPart.gte=620&sort=-massG', [320, 310, 310]],
    ['?verdict=fail', [290]],
    ['?status=queued', [null]],
    ['?status=failed', []],
    ['?massG.gte=500', []],
  ])('%s gives %j', async (query, masses) => {
    expect(await massesOf(query)).toEqual(masses);
  });

  test('filters by the time of creation, both ends included, under any order', async () => {
    const [, second, third] = (await list('?sort=createdAt')).body.items;
    const between = `createdAt.gte=${second.createdAt}&createdAt.lte=${third.createdAt}`;
    const masses = await massesOf(`?${between}&sort=createdAt`);
    expect(masses.slice(0, 2)).toEqual([310, 310]);
    expect((await massesOf(`?${between}&sort=-massG`)).toSorted()).toEqual(masses.toSorted());
    expect(await massesOf('?createdAt.gte=2100-01-01T00:00:00Z')).toEqual([]);
    expect(await list('?createdAt.gte=yesterday')).toMatchObject({ status: 400, body: { errors: [{ pointer: '/createdAt.gte' }] } });
  });

  test('filters by design and by version', async () => {
    expect(await massesOf(`?designId=${designId}`)).toEqual([300]);
    expect(await massesOf(`?versionId=${versionId}`)).toEqual([300]);
    expect(await massesOf('?versionId=019aab00-0000-7000-8000-000000000001')).toEqual([]);
  });

  test('filters by a tag of the version or of its design, of the own team only', async () => {
    expect(await massesOf('?tag=heavy')).toEqual([]);
    await site.call(referee, 'PATCH', `/v1/designs/${designId}/versions/1`, { body: { tags: ['heavy'] } });
    await site.call(referee, 'PATCH', `/v1/designs/${designId}`, { body: { tags: ['league'] } });
    for (const tag of ['heavy', 'league']) expect(await massesOf(`?tag=${tag}`), tag).toEqual([300]);
    expect(await massesOf('?tag=heavy&massG.gt=300')).toEqual([]);
    expect(await massesOf('?tag=heav')).toEqual([]);
    const stranger = await site.person();
    expect((await site.call(stranger, 'GET', '/v1/evaluations?tag=heavy')).body.items).toEqual([]);
  });

  test.each(['', '&sort=createdAt', '&sort=massG', '&sort=-massG', '&massG.gte=300&sort=-massG'])(
    'pages of every size hold each item once, in one order: "%s"',
    async (query) => {
      const all = await pages(query, 200);
      expect(new Set(all).size).toBe(all.length);
      for (const limit of [1, 2, 3]) expect(await pages(query, limit)).toEqual(all);
      if (query.includes('massG')) {
        const masses = all.map((id) => massOf.get(id)!);
        expect(masses).toEqual(masses.toSorted((a, b) => (query.includes('-massG') ? b - a : a - b)));
      }
    },
  );

  test('a page after a new arrival goes on where it was', async () => {
    const first = await list('?limit=2');
    const expected = (await pages('', 200)).slice(2);
    await site.call(referee, 'POST', '/v1/evaluations', { body: { ...conditions, parameterSet: sized(171) } });
    const rest = await list(`?limit=200&cursor=${first.body.nextCursor}`);
    expect(rest.body.items.map((each: { id: string }) => each.id)).toEqual(expected);
  });

  test('a cursor of another sort, or made up, is refused at its field', async () => {
    const { nextCursor } = (await list('?limit=1&sort=massG')).body;
    for (const query of [`?sort=-massG&cursor=${nextCursor}`, '?cursor=AAAA', '?cursor=bm90LWEtY3Vyc29y']) {
      expect(await list(query)).toMatchObject({ status: 400, body: { code: 'invalid-query', errors: [{ pointer: '/cursor' }] } });
    }
  });
});
