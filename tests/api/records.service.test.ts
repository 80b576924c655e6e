import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { BUILD_VOLUMES, MATERIALS, REFERENCES } from '../../openapi/index.ts';
import { openSite, type Person, type Site } from './site.ts';

let site: Site;
let referee: Person;
beforeAll(async () => {
  site = await openSite();
  referee = await site.person();
});
afterAll(() => site.close());

/** What is posted of a built-in record: all of it but what the service adds. */
const bodyOf = ({ revision: _, builtIn: __, ...body }: { revision: number; builtIn: boolean }) => body;

describe.each([
  ['/v1/materials', MATERIALS, { densityGCm3: 1.2 }],
  ['/v1/build-volumes', BUILD_VOLUMES, { recoatS: 12 }],
  ['/v1/references', REFERENCES, { dropHeightMm: 1500 }],
] as const)('%s', (url, builtIn, change) => {
  const own = (key: string) => ({ ...bodyOf(builtIn[0]), key });

  test('lists and shows the built-in ones, read-only', async () => {
    const list = await site.call(referee, 'GET', url);
    expect(list.body.items.slice(0, builtIn.length)).toEqual(builtIn);
    expect(list.body.items.every((each: { builtIn: boolean }) => each.builtIn)).toBe(true);
    expect((await site.call(referee, 'GET', `${url}/${builtIn[0].key}`)).body).toEqual(builtIn[0]);
    const before = await site.rows();
    const taken = await site.call(referee, 'POST', url, { body: bodyOf(builtIn[0]) });
    expect(taken).toMatchObject({ status: 409, body: { code: 'key-taken', errors: [{ pointer: '/key', value: builtIn[0].key }] } });
    expect(await site.rows()).toEqual(before);
  });

  test('posting a key again makes its next revision, and the older one stays', async () => {
    const first = await site.call(referee, 'POST', url, { body: own('league-own') });
    expect(first).toMatchObject({ status: 201, body: { key: 'league-own', revision: 1, builtIn: false } });
    const second = await site.call(referee, 'POST', url, { body: { ...own('league-own'), ...change } });
    expect(second).toMatchObject({ status: 201, body: { revision: 2, ...change } });
    expect((await site.call(referee, 'GET', `${url}/league-own`)).body).toEqual(second.body);
    expect((await site.call(referee, 'GET', String(first.headers.location))).body).toEqual(first.body);
    expect((await site.call(referee, 'GET', `${url}/league-own?revision=3`)).status).toBe(404);
    expect((await site.call(referee, 'GET', `${url}/league-own?revision=2147483648`)).status).toBe(400);
    expect((await site.call(referee, 'GET', `${url}/${builtIn[0].key}?revision=2`)).status).toBe(404);
  });

  test('an archived one leaves the list and cannot be named; its revisions stay; posting it again opens it', async () => {
    const posted = await site.call(referee, 'POST', url, { body: own('league-old') });
    expect(await site.call(referee, 'DELETE', `${url}/league-old`)).toMatchObject({ status: 200, body: posted.body });
    expect((await site.call(referee, 'GET', `${url}/league-old`)).status).toBe(404);
    expect((await site.call(referee, 'DELETE', `${url}/league-old`)).status).toBe(404);
    expect((await site.call(referee, 'GET', String(posted.headers.location))).body).toEqual(posted.body);
    const keys = (await site.call(referee, 'GET', `${url}?limit=200`)).body.items.map((each: { key: string }) => each.key);
    expect(keys).not.toContain('league-old');
    expect((await site.call(referee, 'POST', url, { body: own('league-old') })).body.revision).toBe(2);
    expect((await site.call(referee, 'GET', `${url}/league-old`)).body.revision).toBe(2);
    expect(await site.call(referee, 'DELETE', `${url}/${builtIn[0].key}`)).toMatchObject({ status: 409, body: { code: 'key-taken' } });
  });

  test('pages run through the built-in ones into the own ones, each exactly once', async () => {
    for (const key of ['league-a', 'league-b', 'league-c']) await site.call(referee, 'POST', url, { body: own(key) });
    const all = (await site.call(referee, 'GET', `${url}?limit=200`)).body.items.map((each: { key: string }) => each.key);
    expect(new Set(all).size).toBe(all.length);
    for (const limit of [1, 2, 3, builtIn.length]) {
      const keys: string[] = [];
      for (let cursor = ''; cursor !== 'null'; ) {
        const page = await site.call(referee, 'GET', `${url}?limit=${limit}${cursor && `&cursor=${cursor}`}`);
        expect(page.body.items.length).toBeLessThanOrEqual(limit);
        keys.push(...page.body.items.map((each: { key: string }) => each.key));
        cursor = String(page.body.nextCursor);
      }
      expect(keys).toEqual(all);
    }
  });

  test('a cursor that was made up is refused', async () => {
    for (const cursor of ['builtin-x', 'own-_____', 'AAAA']) {
      expect((await site.call(referee, 'GET', `${url}?cursor=${cursor}`)).body).toMatchObject({
        code: 'invalid-query',
        errors: [{ pointer: '/cursor' }],
      });
    }
  });

  test('another team sees nothing of them and has keys of its own', async () => {
    const stranger = await site.person();
    for (const method of ['GET', 'DELETE'] as const) expect((await site.call(stranger, method, `${url}/league-own`)).status).toBe(404);
    expect((await site.call(stranger, 'GET', url)).body.items).toHaveLength(builtIn.length);
    expect((await site.call(stranger, 'POST', url, { body: own('league-own') })).body.revision).toBe(1);
  });
});
