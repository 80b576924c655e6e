import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exampleRequest } from '../../openapi/examples.ts';
import { ENGINE_VERSION, FILTERABLE } from '../../openapi/index.ts';
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

describe('what history is asked in words, by material and by engine', () => {
  const ids = async (query: string) => (await list(query)).body.items.map((each: { id: string }) => each.id);
  let worded: string;
  beforeAll(async () => {
    const body = { parameterSet: sized(181), notes: 'longer posts, softer landing', basedOn: versionId };
    const made = (await site.call(referee, 'POST', `/v1/designs/${designId}/versions`, { body })).body;
    const posted = { ...conditions, versionId: made.id, material: 'tpu-firm' };
    worded = (await site.call(referee, 'POST', '/v1/evaluations', { body: posted })).body.id;
  });

  test('every line tells its material and engine version, and both filter', async () => {
    const { body } = await list('?limit=200');
    const firm = body.items.filter((each: { material: string }) => each.material === 'tpu-firm').map((each: { id: string }) => each.id);
    expect(firm).toEqual([worded]);
    expect(await ids('?material=tpu-firm')).toEqual(firm);
    expect(await ids('?material=tpu-soft&limit=200')).toHaveLength(body.items.length - 1);
    expect(new Set(body.items.map((each: { engineVersion: string }) => each.engineVersion))).toEqual(new Set([ENGINE_VERSION]));
    expect(await ids(`?engineVersion=${ENGINE_VERSION}&limit=200`)).toHaveLength(body.items.length);
    expect(await ids('?engineVersion=0.0.1')).toEqual([]);
  });

  test.each([
    ['longer posts', true],
    ['Softer LAND', true],
    ['"longer posts"', true],
    ['"posts longer"', false],
    ['longer -softer', false],
    ['land posts', false],
    ["'); drop table", false],
    ['&|!', false],
  ])('the words %s', async (words, isFound) => {
    expect(await ids(`?q=${encodeURIComponent(words)}`)).toEqual(isFound ? [worded] : []);
    expect((await site.call(referee, 'GET', `/v1/designs?q=${encodeURIComponent(words)}`)).body.items).toHaveLength(isFound ? 1 : 0);
  });

  test('words of a design mean all its versions, and go with every other filter', async () => {
    expect(await ids('?q=ball')).toHaveLength(2);
    expect(await ids('?q=ball&status=done')).toHaveLength(1);
    expect(await ids('?q=ball&sort=massG')).toHaveLength(1);
    const stranger = await site.person();
    expect((await site.call(stranger, 'GET', '/v1/evaluations?q=ball')).body.items).toEqual([]);
    expect((await site.call(stranger, 'GET', '/v1/designs?q=ball')).body.items).toEqual([]);
  });
});

describe('a bound on any other number of a result', () => {
  const path = 'massProperties.sumOfCylindersMassG';
  test('looks into results and says so', async () => {
    const value = resultWith({ massG: 310 }).massProperties.sumOfCylindersMassG;
    const { body } = await list(`?${path}.lte=${value}&status=done&limit=200`);
    expect(body.items).toHaveLength(massOf.size);
    expect(body.scan).toEqual({ lookedAt: massOf.size, complete: true });
    expect((await list(`?${path}.gt=${value}&status=done`)).body).toMatchObject({ items: [], nextCursor: null, scan: { complete: true } });
    expect((await list('?massG.gte=0')).body).not.toHaveProperty('scan');
  });

  test('pages that go on where the one before looked last miss none', async () => {
    expect((await pages(`&${path}.gt=0&sort=-massG`, 2)).map((id) => massOf.get(id))).toEqual([320, 310, 310, 305, 300, 290]);
  });

  test.each([
    [
      'a name that is none',
      '?balance.wobble.lte=1',
      '/balance.wobble.lte',
      /names no number of a result; below balance there are: halfMassDifferencePct/,
    ],
    ['a beginning that is none', '?nothing.here.lte=1', '/nothing.here.lte', /a path begins with: engine, geometry/],
    ['an object', '?rebound.energy.lte=1', '/rebound.energy.lte', /below rebound there are/],
    ['a list', '?geometry.cellOpeningMm.min.lte=1', '/geometry.cellOpeningMm.min.lte', /a place such as geometry.cellOpeningMm.0/],
    ['no number', `?${path}.lte=heavy`, `/${path}.lte`, /is "heavy"; allowed: a number/],
    ['no bound', `?${path}=1`, `/${path}`, /is not a known field/],
    ['an order', `?sort=${path}`, '/sort', /allowed: createdAt or one of massG/],
  ])('refuses %s', async (_, query, pointer, detail) => {
    const { status, body } = await list(query);
    expect(status).toBe(400);
    expect(body.errors).toEqual([expect.objectContaining({ pointer, detail: expect.stringMatching(detail) })]);
  });

  test('goes with exports and fronts', async () => {
    const { text } = await site.call(referee, 'GET', `/v1/exports/evaluations?format=ndjson&${path}.gt=0`);
    expect(text.trim().split('\n')).toHaveLength(massOf.size);
    const front = await site.call(referee, 'GET', `/v1/evaluations/front?${path}.gt=0&minimise=massG&maximise=totalPerPart`);
    expect(front.body.lookedAt).toBe(massOf.size);
    const none = await site.call(referee, 'GET', `/v1/evaluations/front?${path}.lt=0&minimise=massG&maximise=totalPerPart`);
    expect(none.body.lookedAt).toBe(0);
  });
});
