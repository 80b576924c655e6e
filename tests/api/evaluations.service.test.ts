import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { QueueUnavailable } from '../../api/queue.ts';
import { exampleRequest } from '../../openapi/examples.ts';
import { ENGINE_VERSION, MATERIALS } from '../../openapi/index.ts';
import { finish, resultWith } from './finished.ts';
import { openSite, type Person, type Site } from './site.ts';

let site: Site;
let referee: Person;
beforeAll(async () => {
  site = await openSite();
});
afterAll(() => site.close());

const post = (body: object, who = referee) => site.call(who, 'POST', '/v1/evaluations', { body });
const get = (id: string, headers: Record<string, string> = {}, who = referee) =>
  site.call(who, 'GET', `/v1/evaluations/${id}`, { headers });
/** A size that no other evaluation of this file has. */
let size = 150;
const another = () => ({
  ...exampleRequest,
  parameterSet: { ...exampleRequest.parameterSet, carrier: { shape: 'sphere', outsideDiameterMm: (size += 0.5) } },
});
const jobs = async () => (await site.dispatch.counts()).waiting;

describe('posting', () => {
  beforeAll(async () => {
    referee = await site.person();
  });

  test('answers 202 with a Location, stores the exact input, and puts one job on the queue', async () => {
    const before = await jobs();
    const made = await post(exampleRequest);
    expect(made).toMatchObject({ status: 202, body: { status: 'queued', progressPct: 0, result: null, error: null, versionId: null } });
    expect(made.headers.location).toBe(`/v1/evaluations/${made.body.id}`);
    expect(made.body.input.material).toMatchObject({
      key: 'tpu-soft',
      revision: 1,
      densityGCm3: MATERIALS.find(({ key }) => key === 'tpu-soft')!.densityGCm3,
    });
    expect(made.body.input.parameterSet).toMatchObject(exampleRequest.parameterSet);
    expect((await get(made.body.id)).body).toEqual(made.body);
    expect(await jobs()).toBe(before + 1);
  });

  test('the same input again is the same evaluation, whatever order its keys are in, by key or inline', async () => {
    const body = another();
    const first = await post(body);
    const before = { rows: await site.rows(), jobs: await jobs() };
    expect((await post(Object.fromEntries(Object.entries(body).reverse()))).body.id).toBe(first.body.id);
    expect({ rows: await site.rows(), jobs: await jobs() }).toEqual(before);
  });

  test('at the same time from many sides computes once', async () => {
    const body = another();
    const before = await site.rows();
    const ids = (await Promise.all(Array.from({ length: 20 }, () => post(body)))).map((each) => each.body.id);
    expect(new Set(ids).size).toBe(1);
    const after = await site.rows();
    for (const table of ['app.evaluation', 'app.computation']) expect(after[table] - before[table]).toBe(1);
  });

  test('keeps the revision of an own record that it used', async () => {
    const { revision: _, builtIn: __, ...body } = MATERIALS[0];
    const material = { ...body, key: 'league-powder' };
    await site.call(referee, 'POST', '/v1/materials', { body: material });
    const first = await post({ ...another(), material: 'league-powder' });
    await site.call(referee, 'POST', '/v1/materials', { body: { ...material, densityGCm3: 1.25 } });
    const second = await post({ ...another(), material: 'league-powder' });
    expect([first, second].map(({ body: { input } }) => [input.material.revision, input.material.densityGCm3])).toEqual([
      [1, body.densityGCm3],
      [2, 1.25],
    ]);
    expect((await get(first.body.id)).body.input.material.revision).toBe(1);
  });

  test('of a version takes its parameter set and is known by it', async () => {
    const { parameterSet, ...conditions } = another();
    const design = (await site.call(referee, 'POST', '/v1/designs', { body: { name: 'ball' } })).body;
    const version = (await site.call(referee, 'POST', `/v1/designs/${design.id}/versions`, { body: { parameterSet } })).body;
    const made = await post({ ...conditions, versionId: version.id });
    expect(made.body).toMatchObject({
      designId: design.id,
      versionId: version.id,
      version: 1,
      input: { parameterSet: version.parameterSet },
    });
    const bare = await post({ ...conditions, parameterSet });
    expect(bare.body).toMatchObject({ versionId: null });
    expect(bare.body.id).not.toBe(made.body.id);
  });

  test('is 202 even when the queue does not take the job: the row is what counts', async () => {
    const refusing = await openSite({ dispatch: { ...site.dispatch, dispatch: () => Promise.reject(new QueueUnavailable('away')) } });
    const who = await refusing.person();
    const made = await refusing.call(who, 'POST', '/v1/evaluations', { body: exampleRequest });
    expect(made).toMatchObject({ status: 202, body: { status: 'queued' } });
    const { computationId } = (await refusing.records.evaluations.get(who.teamId, made.body.id))!;
    expect(await refusing.records.computations.stale({ queuedMs: 0, silentMs: 60_000 })).toContain(computationId);
    await refusing.close();
  });
});

describe('polling', () => {
  beforeAll(async () => {
    referee = await site.person();
  });

  test('an unchanged evaluation is 304 without a body, a changed one is 200 again', async () => {
    const { body } = await post(another());
    const first = await get(body.id);
    expect(first.headers).toMatchObject({ etag: expect.stringMatching(/^".+"$/), 'cache-control': 'private, no-cache' });
    const etag = { 'if-none-match': String(first.headers.etag) };
    expect(await get(body.id, etag)).toMatchObject({
      status: 304,
      text: '',
      headers: { etag: first.headers.etag, 'cache-control': 'private, no-cache' },
    });
    await finish(site.records, referee.teamId, body.id);
    const done = await get(body.id, etag);
    expect(done).toMatchObject({ status: 200, body: { status: 'done', progressPct: 100, result: resultWith() } });
    expect(done.headers.etag).not.toBe(first.headers.etag);
    expect((await get(body.id, { 'if-none-match': String(done.headers.etag) })).status).toBe(304);
  });

  test('a finished input posted again is answered with its result, and nothing is queued', async () => {
    const body = another();
    const { id } = (await post(body)).body;
    await finish(site.records, referee.teamId, id);
    const before = await jobs();
    expect((await post(body)).body).toMatchObject({ id, status: 'done', result: resultWith() });
    expect(await jobs()).toBe(before);
  });

  test('a run that failed on its way is answered with its error beside the numbers so far, and no filter finds it by them', async () => {
    const { id } = (await post(another())).body;
    const { computations, evaluations } = site.records;
    const { computationId } = (await evaluations.get(referee.teamId, id))!;
    await computations.claim(computationId, 'a test');
    const error = { code: 'bottoms-out', message: 'The part bottoms out.' };
    await computations.fail(computationId, { error, retryable: false, partial: { result: resultWith({ massG: 987 }), files: [] } });
    expect((await get(id)).body).toMatchObject({ status: 'failed', error, result: { massProperties: { massG: 987 }, rebound: null } });
    const { items } = (await site.call(referee, 'GET', '/v1/evaluations?massG.gte=986&massG.lte=988')).body;
    expect(items).toEqual([]);
    const all = (await site.call(referee, 'GET', '/v1/evaluations?status=failed')).body.items;
    expect(all).toMatchObject([{ id, verdict: null, quantities: { massG: null } }]);
  });

  test('an evaluation that does not exist is 404', async () => {
    expect((await get('019aab00-0000-7000-8000-000000000001')).body.code).toBe('not-found');
  });
});

describe('cancelling', () => {
  beforeAll(async () => {
    referee = await site.person();
  });
  const cancel = (id: string) => site.call(referee, 'DELETE', `/v1/evaluations/${id}`);

  test('ends it, erases nothing, and twice is the same as once', async () => {
    const { id } = (await post(another())).body;
    const cancelled = await cancel(id);
    expect(cancelled).toMatchObject({ status: 200, body: { id, status: 'cancelled', finishedAt: expect.any(String) } });
    expect((await cancel(id)).body).toEqual(cancelled.body);
    expect((await get(id)).body).toEqual(cancelled.body);
    const { computationId } = (await site.records.evaluations.get(referee.teamId, id))!;
    expect(await site.records.computations.claim(computationId, 'a test')).toBeNull();
  });

  test('one that was cancelled is open again when it is posted again', async () => {
    const body = another();
    const { id } = (await post(body)).body;
    await cancel(id);
    expect((await post(body)).body).toMatchObject({ id, status: 'queued', finishedAt: null });
  });

  test('what is done stays done', async () => {
    const { id } = (await post(another())).body;
    await finish(site.records, referee.teamId, id);
    expect(await cancel(id)).toMatchObject({ status: 409, body: { code: 'already-finished' } });
    expect((await get(id)).body.status).toBe('done');
  });

  test('is refused for what does not exist', async () => {
    expect((await cancel('019aab00-0000-7000-8000-000000000001')).status).toBe(404);
  });
});

test('a result says which engine made it, and the input is stored under that version', async () => {
  const { id } = (await post(another())).body;
  expect((await site.records.evaluations.get(referee.teamId, id))!.engineVersion).toBe(ENGINE_VERSION);
});
