import { randomUUID } from 'node:crypto';
import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exampleRequest } from '../../openapi/examples.ts';
import { ENGINE_VERSION, type Quantity } from '../../openapi/index.ts';
import { reevaluationUndertaking } from '../../worker/reevaluations.ts';
import { finish, resultWith } from './finished.ts';
import { openSite, type Person, type Site } from './site.ts';
import { printedDesign } from './test-house.ts';

let site: Site;
let client: Client;
beforeAll(async () => {
  site = await openSite();
  client = new Client({ connectionString: site.databaseUrl });
  await client.connect();
});
afterAll(async () => {
  await client.end();
  await site.close();
});

const { parameterSet: _, ...conditions } = exampleRequest;
const OLD = '1.0.0';
const post = (who: Person, body: object) => site.call(who, 'POST', '/v1/reevaluations', { body });
const get = async (who: Person, id: string) => (await site.call(who, 'GET', `/v1/reevaluations/${id}`)).body;

/** An evaluation of a version, done or failed, as if an older engine had computed it. */
async function old(
  who: Person,
  versionId: string,
  numbers: Partial<Record<Quantity, number>> | 'failed',
  engineVersion = OLD,
): Promise<string> {
  const { id } = (await site.call(who, 'POST', '/v1/evaluations', { body: { ...conditions, versionId } })).body;
  await end(who, id, numbers);
  const { computationId } = (await site.records.evaluations.get(who.teamId, id))!;
  await client.query('update app.computation set engine_version = $2 where id = $1', [computationId, engineVersion]);
  await client.query('update app.evaluation set engine_version = $2 where computation_id = $1', [computationId, engineVersion]);
  return id;
}

async function end(who: Person, id: string, numbers: Partial<Record<Quantity, number>> | 'failed'): Promise<void> {
  if (numbers !== 'failed') return finish(site.records, who.teamId, id, resultWith(numbers));
  const { computationId } = (await site.records.evaluations.get(who.teamId, id))!;
  await site.records.computations.claim(computationId, 'a test');
  await site.records.computations.fail(computationId, { error: { code: 'buckled', message: 'The lattice buckles' }, retryable: false });
}

const queue = { add: async () => undefined };
const step = (id: string) => reevaluationUndertaking({ records: site.records, queue }).advance(id);
const pairs = async (who: Person, id: string, query = '') => (await site.call(who, 'GET', `/v1/reevaluations/${id}/pairs${query}`)).body;

describe('a re-evaluation', () => {
  test('computes the stored inputs again by the present engine, and tells exactly what moved', async () => {
    const who = await site.person();
    const { designId, versions } = await printedDesign(site, who, 5);
    const before = [
      await old(who, versions[0], { massG: 300, volumeMm3: 250_000 }),
      await old(who, versions[1], { massG: 200, volumeMm3: 250_000 }),
      await old(who, versions[2], { massG: 100 }),
      await old(who, versions[3], 'failed'),
    ];
    await client.query(`update app.evaluation set verdict = 'fail' where id = $1`, [before[0]]);
    const present = (await site.call(who, 'POST', '/v1/evaluations', { body: { ...conditions, versionId: versions[4] } })).body.id;
    await end(who, present, { massG: 111 });
    const { status, body, headers } = await post(who, { name: 'After the update', designId });
    expect(status).toBe(202);
    expect(body).toMatchObject({
      status: 'queued',
      engineVersion: ENGINE_VERSION,
      upToDate: 1,
      counts: { total: 4, queued: 4 },
      drift: { pairs: 0 },
    });
    const { id } = body;
    expect((await site.call(who, 'GET', headers.location!)).body).toEqual(body);
    // A colleague of the worker dies after a step: the next one goes on from the rows.
    await step(id);
    await step(id);
    const begun = (await pairs(who, id)).items;
    expect(begun.map(({ earlier }: { earlier: { evaluationId: string } }) => earlier.evaluationId)).toEqual(before);
    const again = begun.map((each: { again: { evaluationId: string } }) => each.again.evaluationId) as string[];
    expect(new Set([...again, ...before]).size).toBe(8);
    const listed = async (query: string) =>
      (await site.call(who, 'GET', `/v1/evaluations?${query}`)).body.items.map(({ id }: { id: string }) => id);
    expect(await listed(`reevaluationId=${id}&sort=createdAt`)).toEqual(again);
    expect(await listed(`reevaluationId=${id}&versionId=${versions[1]}`)).toEqual([again[1]]);
    // all filters must hold: these are of no batch
    expect(await listed(`reevaluationId=${id}&batchId=${randomUUID()}`)).toEqual([]);
    for (const [k, each] of again.entries()) {
      const [was, is] = [await site.records.evaluations.get(who.teamId, before[k]), await site.records.evaluations.get(who.teamId, each)];
      expect(is).toMatchObject({ input: was!.input, versionId: versions[k], designId, engineVersion: ENGINE_VERSION });
    }
    await end(who, again[0], { massG: 303, volumeMm3: 250_000 });
    await end(who, again[1], { massG: 190, volumeMm3: 250_000 });
    await end(who, again[2], 'failed');
    await end(who, again[3], { massG: 50 });
    await step(id);
    const done = await get(who, id);
    expect(done).toMatchObject({ status: 'done', counts: { total: 4, done: 3, failed: 1, queued: 0 }, warnings: [] });
    const { drift } = done;
    expect(drift).toMatchObject({
      pairs: 4,
      earlier: [{ engineVersion: OLD, count: 4 }],
      again: [{ engineVersion: ENGINE_VERSION, count: 4 }],
      verdicts: { count: 1, items: [{ evaluationId: before[0], again: again[0], from: 'fail' }] },
      newFailures: { count: 1, items: [{ evaluationId: before[2], again: again[2], code: 'buckled' }] },
      pastFailures: { count: 1, items: [{ evaluationId: before[3], again: again[3], code: 'buckled' }] },
    });
    const of = (name: string) => drift.quantities.find(({ quantity }: { quantity: string }) => quantity === name);
    // +1 % and -5 %: the median lies between, the largest is the one downwards.
    expect(of('massG')).toEqual({
      ...{ quantity: 'massG', compared: 2, moved: 2, medianPct: -2, gained: 0, lost: 0 },
      largest: { evaluationId: before[1], again: again[1], left: 200, right: 190, changePct: -5 },
    });
    expect(of('volumeMm3')).toEqual({ quantity: 'volumeMm3', compared: 2, moved: 0, medianPct: null, largest: null, gained: 0, lost: 0 });
    expect(drift.quantities.filter(({ moved }: { moved: number }) => moved > 0)).toHaveLength(1);
    expect(done.summary).toContain('1 of ');
    expect(done.summary).toContain('massG at most, by -5 %; 1 verdict changed; 1 fails that did not before; 1 is done that failed before.');
    const first = (await pairs(who, id, '?limit=1')).items[0];
    expect(first.changes).toEqual([{ quantity: 'massG', left: 300, right: 303, change: 3, changePct: 1 }]);
    expect((await site.call(who, 'GET', '/v1/reevaluations')).body.items).toMatchObject([{ id, status: 'done', counts: { done: 3 } }]);
    // The earlier evaluations stay as they were, and are not asked for twice.
    expect((await site.records.evaluations.get(who.teamId, before[1]))!.quantities.massG).toBe(200);
    const twice = (await post(who, { designId })).body;
    await step(twice.id);
    expect((await get(who, twice.id)).drift).toMatchObject({ pairs: 4, quantities: drift.quantities });
    // An old version of the engine in the middle of a night is told.
    await client.query(`update app.undertaking set engine_versions = engine_versions || '{"1.0.0": 2}' where id = $1`, [id]);
    const versionsOf = [
      { engineVersion: OLD, count: 2 },
      { engineVersion: ENGINE_VERSION, count: 4 },
    ];
    expect((await get(who, id)).warnings).toEqual([expect.objectContaining({ code: 'mixed-engine-versions', engineVersions: versionsOf })]);
  });

  test('says so where nothing is left to do', async () => {
    const who = await site.person();
    const { designId, versions } = await printedDesign(site, who, 2);
    expect((await post(who, { designId })).body.summary).toBe('Nothing is left to do: the selection has no finished evaluation.');
    const { id } = (await site.call(who, 'POST', '/v1/evaluations', { body: { ...conditions, versionId: versions[0] } })).body;
    await end(who, id, { massG: 300 });
    const { body } = await post(who, { evaluationIds: [id] });
    expect(body).toMatchObject({ status: 'done', upToDate: 1, counts: { total: 0 } });
    expect(body.summary).toBe(
      `Nothing is left to do: engine ${ENGINE_VERSION}, the present one, has computed the 1 evaluation of the selection.`,
    );
    expect(await get(who, body.id)).toEqual(body);
    expect((await site.call(who, 'DELETE', `/v1/reevaluations/${body.id}`)).body.code).toBe('already-finished');
  });

  test('takes what is selected by version, tag, evaluation and engine, all of which must hold', async () => {
    const who = await site.person();
    const { designId, versions } = await printedDesign(site, who, 3);
    const [first, second, third] = [
      await old(who, versions[0], { massG: 1 }),
      await old(who, versions[1], { massG: 2 }, '1.1.0'),
      await old(who, versions[2], { massG: 3 }),
    ];
    await site.call(who, 'PATCH', `/v1/designs/${designId}/versions/2`, { body: { tags: ['for-print'] } });
    const selected = async (selection: object) => {
      const { id } = (await post(who, selection)).body;
      const { items } = await pairs(who, id);
      return items.map(({ earlier }: { earlier: { evaluationId: string } }) => earlier.evaluationId);
    };
    expect(await selected({ versionIds: [versions[0], versions[2]] })).toEqual([first, third]);
    expect(await selected({ tag: 'for-print' })).toEqual([second]);
    expect(await selected({ engineVersion: '1.1.0' })).toEqual([second]);
    expect(await selected({ evaluationIds: [third] })).toEqual([third]);
    expect(await selected({ tag: 'for-print', engineVersion: OLD })).toEqual([]);
  });

  test('is refused where it selects nothing, or what the team does not have; it is cancelled, and hidden from others', async () => {
    const [who, stranger] = [await site.person(), await site.person()];
    const { designId, versions } = await printedDesign(site, who, 1);
    const before = await old(who, versions[0], { massG: 300 });
    expect((await post(who, {})).body.errors[0].detail).toContain(
      'at least one of designId, versionIds, evaluationIds, tag, engineVersion',
    );
    expect((await post(who, { engineVersion: 'newest' })).body.errors[0].pointer).toBe('/engineVersion');
    const nobody = randomUUID();
    const { status, body } = await post(who, { designId: nobody, versionIds: [versions[0], nobody], evaluationIds: [nobody] });
    expect(status).toBe(422);
    expect(body.errors.map(({ pointer }: { pointer: string }) => pointer)).toEqual(['/designId', '/versionIds/1', '/evaluationIds/0']);
    expect((await post(stranger, { evaluationIds: [before] })).status).toBe(422);
    const { id } = (await post(who, { designId })).body;
    await step(id);
    const [{ again }] = (await pairs(who, id)).items;
    expect((await site.call(who, 'DELETE', `/v1/reevaluations/${id}`)).body.status).toBe('cancelled');
    await step(id);
    await step(id);
    expect(await get(who, id)).toMatchObject({ status: 'cancelled', counts: { cancelled: 1 }, drift: { pairs: 0 } });
    expect((await site.records.evaluations.get(who.teamId, again.evaluationId))!.status).toBe('cancelled');
    for (const path of ['', '/pairs']) expect((await site.call(stranger, 'GET', `/v1/reevaluations/${id}${path}`)).status).toBe(404);
  });
});
