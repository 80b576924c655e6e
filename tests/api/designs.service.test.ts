import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exampleParameterSet } from '../../openapi/examples.ts';
import { ask } from './ask.ts';
import { bearer, openSite, type Person, type Site } from './site.ts';

let site: Site;
let referee: Person;
beforeAll(async () => {
  site = await openSite();
  referee = await site.person();
});
afterAll(() => site.close());

const designOf = async (name: string) => (await site.call(referee, 'POST', '/v1/designs', { body: { name } })).body.id as string;
const NOBODY = '019aab00-0000-7000-8000-000000000001';

describe('designs', () => {
  test('are made, found at their Location, and listed newest first, page by page', async () => {
    const made = await site.call(referee, 'POST', '/v1/designs', { body: { name: '  training ball  ', notes: 'never needs a pump' } });
    expect(made).toMatchObject({ status: 201, body: { name: 'training ball', notes: 'never needs a pump', archivedAt: null } });
    expect((await site.call(referee, 'GET', String(made.headers.location))).body).toEqual(made.body);
    const names = ['second', 'third', 'fourth'];
    for (const name of names) await designOf(name);
    const first = await site.call(referee, 'GET', '/v1/designs?limit=3');
    const rest = await site.call(referee, 'GET', `/v1/designs?limit=3&cursor=${first.body.nextCursor}`);
    const listed = [...first.body.items, ...rest.body.items].map((each: { name: string }) => each.name);
    expect(listed).toEqual([...names.reverse(), 'training ball']);
    expect(rest.body.nextCursor).toBeNull();
  });

  test('that are archived leave the list, can still be read, and take no version', async () => {
    const id = await designOf('a mistake');
    const archived = await site.call(referee, 'DELETE', `/v1/designs/${id}`);
    expect(archived).toMatchObject({ status: 200, body: { archivedAt: expect.any(String) } });
    expect((await site.call(referee, 'DELETE', `/v1/designs/${id}`)).body).toEqual(archived.body);
    expect((await site.call(referee, 'GET', `/v1/designs/${id}`)).body).toEqual(archived.body);
    const listed = (await site.call(referee, 'GET', '/v1/designs?limit=200')).body.items;
    expect(listed.some((each: { id: string }) => each.id === id)).toBe(false);
    const before = await site.rows();
    const version = await site.call(referee, 'POST', `/v1/designs/${id}/versions`, { body: { parameterSet: exampleParameterSet } });
    expect(version).toMatchObject({ status: 409, body: { code: 'archived' } });
    expect(await site.rows()).toEqual(before);
  });

  test('change their name, notes and tags; what is left out stays', async () => {
    const made = await site.call(referee, 'POST', '/v1/designs', { body: { name: 'ball', notes: 'light', tags: ['league', 'size-1'] } });
    const url = String(made.headers.location);
    const change = async (body: object) => (await site.call(referee, 'PATCH', url, { body })).body;
    expect(await change({ notes: 'lighter' })).toEqual({ ...made.body, notes: 'lighter' });
    const retagged = await change({ tags: ['size-1', 'printed'] });
    expect(retagged).toEqual({ ...made.body, notes: 'lighter', tags: ['size-1', 'printed'] });
    expect((await site.call(referee, 'GET', url)).body).toEqual(retagged);
    expect(await change({ name: ' ball two ', tags: [] })).toEqual({ ...made.body, name: 'ball two', notes: 'lighter', tags: [] });
  });

  test('are found by a tag', async () => {
    const tagged = await site.call(referee, 'POST', '/v1/designs', { body: { name: 'tagged', tags: ['rare'] } });
    await site.call(referee, 'POST', '/v1/designs', { body: { name: 'other', tags: ['rare-earth'] } });
    expect((await site.call(referee, 'GET', '/v1/designs?tag=rare')).body.items).toEqual([tagged.body]);
    expect((await site.call(referee, 'GET', '/v1/designs?tag=none')).body.items).toEqual([]);
    expect((await site.call(referee, 'GET', '/v1/designs?tag=No%20tag')).body).toMatchObject({ code: 'invalid-query' });
  });

  test.each([
    [{}, '', 'required: at least one of name, notes and tags'],
    [{ tags: ['Loud'] }, '/tags/0', 'allowed: a tag of lower-case letters'],
    [{ tags: ['a', 'b', 'a'] }, '/tags', 'names a tag twice'],
    [{ tags: Array.from({ length: 21 }, (_, k) => `t${k}`) }, '/tags', 'at most 20'],
    [{ tags: ['x'.repeat(33)] }, '/tags/0', 'at most 32 characters'],
    [{ notes: 'back', archivedAt: null }, '/archivedAt', 'is not a known field'],
  ])('refuse the change %j', async (body, pointer, detail) => {
    const url = `/v1/designs/${await designOf('stays')}`;
    const before = (await site.call(referee, 'GET', url)).body;
    const refused = await site.call(referee, 'PATCH', url, { body });
    expect(refused).toMatchObject({ status: 422, body: { errors: [{ pointer, detail: expect.stringContaining(detail) }] } });
    expect((await site.call(referee, 'GET', url)).body).toEqual(before);
  });

  test('that do not exist are 404, whatever is asked of them', async () => {
    const body = { parameterSet: exampleParameterSet };
    for (const [method, url, sent] of [
      ['GET', `/v1/designs/${NOBODY}`],
      ['DELETE', `/v1/designs/${NOBODY}`],
      ['PATCH', `/v1/designs/${NOBODY}`, { notes: 'mine' }],
      ['PATCH', `/v1/designs/${NOBODY}/versions/1`, { notes: 'mine' }],
      ['GET', `/v1/designs/${NOBODY}/versions`],
      ['GET', `/v1/designs/${NOBODY}/versions/1`],
      ['POST', `/v1/designs/${NOBODY}/versions`, body],
    ] as const) {
      expect(await site.call(referee, method, url, { body: sent })).toMatchObject({ status: 404, body: { code: 'not-found' } });
    }
  });
});

describe('versions', () => {
  const post = (design: string, more: object = {}) =>
    site.call(referee, 'POST', `/v1/designs/${design}/versions`, { body: { parameterSet: exampleParameterSet, ...more } });

  test('are numbered from 1, keep their parameter set with its defaults, and tell what they are based on', async () => {
    const design = await designOf('lineage');
    const first = await post(design, { notes: 'as drawn' });
    expect(first).toMatchObject({ status: 201, body: { number: 1, basedOn: null, notes: 'as drawn', designId: design } });
    const layers = exampleParameterSet.layers.map((layer) => ({ ...layer, strutDiameterMm: 3 }));
    const second = await post(design, { basedOn: first.body.id, parameterSet: { ...exampleParameterSet, layers } });
    expect(second.body).toMatchObject({ number: 2, basedOn: first.body.id, parameterSet: { layers } });
    for (const made of [first, second]) expect((await site.call(referee, 'GET', String(made.headers.location))).body).toEqual(made.body);
    const { body } = await site.call(referee, 'GET', `/v1/designs/${design}/versions`);
    expect(body.items).toEqual([second.body, first.body]);
  });

  test('posted at the same time get different numbers without a gap', async () => {
    const design = await designOf('many hands');
    const made = await Promise.all(Array.from({ length: 12 }, () => post(design)));
    expect(made.map((each) => each.body.number).sort((a, b) => a - b)).toEqual(Array.from({ length: 12 }, (_, k) => k + 1));
  });

  test('keep their parameter set for good, and cannot be erased', async () => {
    const { headers, body } = await post(await designOf('fixed'));
    const url = String(headers.location);
    const refused = await site.call(referee, 'PATCH', url, { body: { notes: 'new', parameterSet: exampleParameterSet } });
    expect(refused).toMatchObject({ status: 422, body: { errors: [{ pointer: '/parameterSet' }] } });
    for (const method of ['PUT', 'DELETE'] as const) {
      expect((await ask(site.app.server, { method, url, headers: bearer(referee) })).status).toBe(405);
    }
    expect((await site.call(referee, 'GET', url)).body).toEqual(body);
  });

  test('change their notes and tags, and are found by a tag', async () => {
    const design = await designOf('notebook');
    const [first, second] = [await post(design, { tags: ['drawn'] }), await post(design, { tags: ['drawn'] })];
    const url = String(first.headers.location);
    const changed = await site.call(referee, 'PATCH', url, { body: { notes: 'a little heavy', tags: ['printed', 'drawn'] } });
    expect(changed).toMatchObject({ status: 200, body: { ...first.body, notes: 'a little heavy', tags: ['printed', 'drawn'] } });
    expect((await site.call(referee, 'GET', url)).body).toEqual(changed.body);
    const tagged = async (tag: string) => (await site.call(referee, 'GET', `/v1/designs/${design}/versions?tag=${tag}`)).body.items;
    expect(await tagged('printed')).toEqual([changed.body]);
    expect(await tagged('drawn')).toEqual([second.body, changed.body]);
    expect((await site.call(await site.person(), 'PATCH', url, { body: { notes: 'theirs' } })).status).toBe(404);
    expect((await site.call(referee, 'GET', url)).body).toEqual(changed.body);
  });

  test('based on what is no version of the team are refused at that field', async () => {
    const other = await site.person();
    const theirs = (await site.call(other, 'POST', '/v1/designs', { body: { name: 'theirs' } })).body.id;
    const foreign = (await site.call(other, 'POST', `/v1/designs/${theirs}/versions`, { body: { parameterSet: exampleParameterSet } })).body
      .id;
    const design = await designOf('this one');
    const before = await site.rows();
    for (const basedOn of [NOBODY, foreign]) {
      expect(await post(design, { basedOn })).toMatchObject({ status: 422, body: { errors: [{ pointer: '/basedOn', value: basedOn }] } });
    }
    expect(await site.rows()).toEqual(before);
  });

  test('that do not exist are 404, numbers that are none are 400', async () => {
    const design = await designOf('few');
    expect((await site.call(referee, 'GET', `/v1/designs/${design}/versions/1`)).status).toBe(404);
    // The last is one more than the column holds.
    for (const number of ['0', '-1', '1.5', 'one', '9'.repeat(30), '2147483648']) {
      const { status, body } = await site.call(referee, 'GET', `/v1/designs/${design}/versions/${number}`);
      expect({ status, pointer: body.errors[0].pointer }, number).toEqual({ status: 400, pointer: '/number' });
    }
    expect((await site.call(referee, 'GET', `/v1/designs/${design}/versions/2147483647`)).status).toBe(404);
  });
});
