import { randomUUID } from 'node:crypto';
import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exampleParameterSet, exampleRequest, exampleTrayRequest } from '../../openapi/examples.ts';
import { CSV_TEMPLATE, type Route, routes } from '../../openapi/index.ts';
import { examplePrintBody } from '../../openapi/test-house-examples.ts';
import { finish } from './finished.ts';
import type { CallOptions } from './site.ts';
import { openSite, type Person, type Site } from './site.ts';

let site: Site;
let referee: Person;
let sql: Client;
let versionsUrl: string;
/** One that is done. */
let evaluationId: string;
const dispatched: string[] = [];
beforeAll(async () => {
  site = await openSite();
  referee = await site.person();
  sql = new Client({ connectionString: site.databaseUrl });
  await sql.connect();
  versionsUrl = `/v1/designs/${(await site.call(referee, 'POST', '/v1/designs', { body: { name: 'ball' } })).body.id}/versions`;
  evaluationId = (await site.call(referee, 'POST', '/v1/evaluations', { body: exampleRequest })).body.id;
  await finish(site.records, referee.teamId, evaluationId);
});
afterAll(async () => {
  await sql.end();
  await site.close();
});

interface PostOptions {
  who?: Person;
  headers?: CallOptions['headers'];
}
const post = (url: string, key: string, body: CallOptions['body'], { who = referee, headers }: PostOptions = {}) =>
  site.call(who, 'POST', url, { body, headers: { ...headers, 'idempotency-key': key } });

/** What needs measurements or a finished batch first is sent twice in tests of its own. */
const LATER = ['/v1/calibrations', '/v1/surfaces'];
const posts = Object.values<Route>(routes).filter(({ method, url }) => method === 'POST' && !LATER.some((each) => url.startsWith(each)));

/** Examples name versions and prints of their own world; here they are some that are there. */
async function bodyOf(route: Route): Promise<CallOptions> {
  const version = async () => (await site.call(referee, 'POST', versionsUrl, { body: { parameterSet: exampleParameterSet } })).body.id;
  if (route.url === '/v1/trays') return { body: { ...exampleTrayRequest, parts: [{ versionId: await version(), count: 3 }] } };
  if (route.tag !== 'test house') return { body: route.bodyExample };
  const prints = { ...examplePrintBody, versionId: await version(), copies: [{ serial: randomUUID() }] };
  if (route.url === '/v1/prints') return { body: prints };
  const { serial, versionId } = (await site.call(referee, 'POST', '/v1/prints', { body: prints })).body.items[0];
  if (route.takes) return { body: CSV_TEMPLATE.replaceAll('HSL-1-01,1,', `${serial},,`), headers: { 'content-type': route.takes } };
  return { body: { ...(route.bodyExample as object), ...(route.url === '/v1/measurements' ? { serial } : { versionId }) } };
}

describe('a POST sent again with its key', () => {
  test.each(posts.map((route) => [route.url, route] as const))('%s answers the same and makes nothing more', async (url, route) => {
    const key = randomUUID();
    const at = url.replace('/v1/designs/:id/versions', versionsUrl).replace('/v1/evaluations/:id', `/v1/evaluations/${evaluationId}`);
    const { body, headers } = await bodyOf(route);
    const first = await post(at, key, body, { headers });
    expect(first.status).toBe(Number(Object.keys(route.responses)[0]));
    const before = await site.rows();
    const again = await post(at, key, body, { headers });
    expect([again.status, again.text, again.headers.location]).toEqual([first.status, first.text, first.headers.location]);
    expect(await site.rows()).toEqual(before);
  });

  test('but another body, or another path, is 422 and makes nothing', async () => {
    const key = randomUUID();
    await post('/v1/designs', key, { name: 'one' });
    await post(versionsUrl, key, { parameterSet: exampleParameterSet });
    const other = (await site.call(referee, 'POST', '/v1/designs', { body: { name: 'other' } })).body.id;
    const before = await site.rows();
    const refused = { status: 422, body: { code: 'idempotency-key-reused' } };
    expect(await post('/v1/designs', key, { name: 'two' })).toMatchObject(refused);
    expect(await post(`/v1/designs/${other}/versions`, key, { parameterSet: exampleParameterSet })).toMatchObject(refused);
    expect(await site.rows()).toEqual(before);
    // A default that is written out is the same request.
    expect(await post('/v1/designs', key, { tags: [], name: 'one', notes: '' })).toMatchObject({ status: 201 });
  });

  test('of another team, or with another key, is another request', async () => {
    const key = randomUUID();
    const ids = [
      await post('/v1/designs', key, { name: 'ours' }),
      await post('/v1/designs', key, { name: 'theirs' }, { who: await site.person() }),
      await post('/v1/designs', randomUUID(), { name: 'ours' }),
    ].map((each) => each.body.id);
    expect(new Set(ids).size).toBe(3);
  });

  test('twenty at once make it once; those that come too early are told so', async () => {
    const key = randomUUID();
    const before = await site.rows();
    const answers = await Promise.all(Array.from({ length: 20 }, () => post('/v1/designs', key, { name: 'many hands' })));
    const made = answers.filter(({ status }) => status === 201);
    expect(new Set(made.map(({ body }) => body.id)).size).toBe(1);
    for (const each of answers.filter(({ status }) => status !== 201))
      expect(each).toMatchObject({ status: 409, body: { code: 'idempotency-key-in-use' }, headers: { 'retry-after': '1' } });
    expect((await site.rows())['app.design']).toBe(before['app.design'] + 1);
    expect((await post('/v1/designs', key, { name: 'many hands' })).body.id).toBe(made[0].body.id);
  });
});

describe('a request that is at work', () => {
  test('is 409 for whoever sends it again, and its answer is there once it is done', async () => {
    const key = randomUUID();
    // The row of the design is held from outside, so the first request waits for it.
    await sql.query('begin');
    await sql.query('select from app.design where id = $1 for update', [versionsUrl.split('/')[3]]);
    const first = post(versionsUrl, key, { parameterSet: exampleParameterSet });
    await expect
      .poll(
        async () =>
          (
            await sql.query(`select from pg_locks where locktype = 'advisory' and database = (select oid from pg_database
        where datname = current_database())`)
          ).rowCount,
        { timeout: 5000 },
      )
      .toBe(1);
    expect(await post(versionsUrl, key, { parameterSet: exampleParameterSet })).toMatchObject({ status: 409 });
    await sql.query('commit');
    const made = await first;
    expect(made.status).toBe(201);
    expect((await post(versionsUrl, key, { parameterSet: exampleParameterSet })).text).toBe(made.text);
  });
});

describe('a refusal', () => {
  test('that a handler decides on is kept, and leaves nothing else behind', async () => {
    const key = randomUUID();
    const url = '/v1/designs/019aab00-0000-7000-8000-000000000001/versions';
    const before = await site.rows();
    const body = { parameterSet: exampleParameterSet, basedOn: null };
    for (let k = 0; k < 2; k++) expect(await post(url, key, body)).toMatchObject({ status: 404, body: { code: 'not-found' } });
    const basedOn = '019aab00-0000-7000-8000-000000000002';
    const refused = await post(versionsUrl, randomUUID(), { ...body, basedOn });
    expect(refused).toMatchObject({ status: 422, body: { errors: [{ pointer: '/basedOn' }] } });
    expect({ ...(await site.rows()), 'app.idempotent_answer': 0 }).toEqual({ ...before, 'app.idempotent_answer': 0 });
    const next = await post(versionsUrl, randomUUID(), body);
    const all = (await site.call(referee, 'GET', versionsUrl)).body.items;
    expect(all.map((each: { number: number }) => each.number)).toEqual(all.map((_: unknown, k: number) => next.body.number - k));
  });

  test('of a body that is not even valid is not kept: the key is free for the right one', async () => {
    const key = randomUUID();
    expect((await post('/v1/designs', key, { name: '' })).status).toBe(422);
    expect((await post('/v1/designs', key, { name: 'right' })).status).toBe(201);
  });

  test('of the service’s own making is not kept, and nothing of the request is', async () => {
    const key = randomUUID();
    const before = await site.rows();
    await sql.query(`create function app.refuse() returns trigger language plpgsql as 'begin raise exception ''no''; end'`);
    await sql.query('create trigger refuse before insert on app.idempotent_answer for each row execute function app.refuse()');
    const failed = await post('/v1/designs', key, { name: 'late failure' });
    await sql.query('drop trigger refuse on app.idempotent_answer');
    expect(failed.status).toBe(500);
    expect(await site.rows()).toEqual(before);
    expect((await post('/v1/designs', key, { name: 'late failure' })).status).toBe(201);
  });
});

test.each(['', ' ', 'a b', 'ä', 'x'.repeat(256)])('%j is no key', async (key) => {
  const before = await site.rows();
  const refused = await post('/v1/designs', key, { name: 'ball' });
  expect(refused).toMatchObject({ status: 400, body: { code: 'invalid-header', errors: [{ pointer: '/Idempotency-Key' }] } });
  expect(await site.rows()).toEqual(before);
  expect((await post('/v1/designs', 'x'.repeat(255), { name: 'ball' })).status).toBe(201);
});

test('an answer goes after a day: the key is free, and what expired is removed', async () => {
  const keys = Array.from({ length: 3 }, () => randomUUID());
  const first = [];
  for (const key of keys) first.push((await post('/v1/designs', key, { name: 'old' })).body.id);
  await sql.query(`update app.idempotent_answer set created_at = now() - interval '24 hours 1 second' where key = any($1)`, [keys]);
  const anew = await post('/v1/designs', keys[0], { name: 'new' });
  expect(anew).toMatchObject({ status: 201, body: { name: 'new' } });
  expect(first).not.toContain(anew.body.id);
  expect((await sql.query('select key from app.idempotent_answer where key = any($1)', [keys])).rows).toEqual([{ key: keys[0] }]);
});

test('a key shown once is kept sealed, and only who made it is told it again', async () => {
  const key = randomUUID();
  const made = await post('/v1/keys', key, { name: 'coach' });
  const { rows } = await sql.query('select answer from app.idempotent_answer where key = $1', [key]);
  expect(rows[0].answer).not.toContain(made.body.key);
  expect(JSON.stringify((await sql.query('select * from app.idempotent_answer')).rows)).not.toContain(made.body.key);
  const colleague = await site.person('admin', referee.teamId);
  expect((await post('/v1/keys', key, { name: 'coach' }, { who: colleague })).body.key).not.toBe(made.body.key);
  expect((await post('/v1/keys', key, { name: 'coach' })).body.key).toBe(made.body.key);
});

test('an evaluation goes on the queue only once its row is there for the worker', async () => {
  const seen: (number | null)[] = [];
  const watched = await openSite({
    dispatch: {
      ...site.dispatch,
      dispatch: async (id) => {
        dispatched.push(id);
        const client = new Client({ connectionString: watched.databaseUrl });
        await client.connect();
        seen.push((await client.query('select from app.computation where id = $1', [id])).rowCount);
        await client.end();
      },
    },
  });
  const person = await watched.person();
  const send = () => watched.call(person, 'POST', '/v1/evaluations', { body: exampleRequest, headers: { 'idempotency-key': 'k' } });
  const first = await send();
  expect((await send()).text).toBe(first.text);
  expect([dispatched.length, seen]).toEqual([1, [1]]);
  await watched.close();
});
