import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exampleEvaluation, exampleParameterSet, exampleRequest } from '../../openapi/examples.ts';
import { ENGINE_VERSION, type ResolvedInput } from '../../openapi/index.ts';
import { inputHash, type UndertakingKind } from '../../prisma/index.ts';
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

const NO_RULES = { madeFilesAfterDays: null, pointResultsAfterDays: null };
const put = (who: Person, body: object) => site.call(who, 'PUT', '/v1/retention', { body });
const kept = async (who: Person, query = '') => (await site.call(who, 'GET', `/v1/retention${query}`)).body;
const evaluation = async (who: Person, id: string) => (await site.call(who, 'GET', `/v1/evaluations/${id}`)).body;
const apply = () => site.records.retention.apply(100);

let sizes = 0;
/** An input unlike any other. */
const inputOf = (): ResolvedInput => ({
  ...exampleEvaluation.input,
  parameterSet: { ...exampleEvaluation.input.parameterSet, carrier: { shape: 'sphere', outsideDiameterMm: 160 + 0.01 * sizes++ } },
});

/** A point of an undertaking, done so many days ago. */
async function pointOf(who: Person, { kind = 'batch' as UndertakingKind, daysAgo = 40, ended = true, input = inputOf() } = {}) {
  const { undertakings, evaluations } = site.records;
  const { id } = await undertakings.create(who.teamId, { kind, name: '', input: {}, total: 1 });
  const submission = { input, inputHash: inputHash(input), engineVersion: ENGINE_VERSION, designId: null, versionId: null };
  const [dispatch] = await undertakings.advance(id, (held) => held.submit(submission));
  const [point] = (await evaluations.list(who.teamId, { undertakingIds: [id], limit: 1 })).items;
  if (dispatch) await finish(site.records, who.teamId, point.id, resultWith({ massG: 300 }));
  await undertakings.advance(id, async (held) => void (ended && (await held.update({ status: 'done' }))));
  await aged(point.id, daysAgo);
  return { undertakingId: id, id: point.id, input };
}

const aged = (evaluationId: string, days: number) =>
  client.query(
    `update app.computation set finished_at = now() - $2 * interval '1 day' where id = (select computation_id from app.evaluation where id = $1)`,
    [evaluationId, days],
  );

describe('without rules', () => {
  test('everything is kept; what a rule would free can be asked', async () => {
    const who = await site.person();
    const { id } = await pointOf(who);
    expect(await kept(who)).toEqual({ rules: NO_RULES, changedAt: null, wouldFreeNow: { madeFiles: null, pointResults: null } });
    const { wouldFreeNow } = await kept(who, '?pointResultsAfterDays=30');
    expect(wouldFreeNow).toEqual({ madeFiles: null, pointResults: { count: 1, megabytes: expect.any(Number), complete: true } });
    expect(wouldFreeNow.pointResults.megabytes).toBeGreaterThan(0.001);
    expect((await kept(who, '?pointResultsAfterDays=50')).wouldFreeNow.pointResults.count).toBe(0);
    expect(await apply()).toBeNull();
    expect((await evaluation(who, id)).result).not.toBeNull();
  });

  test('only an admin key sets them, within their range', async () => {
    const who = await site.person();
    const member = await site.person('member', who.teamId);
    expect((await put(member, NO_RULES)).status).toBe(403);
    expect((await put(who, { ...NO_RULES, madeFilesAfterDays: 0 })).body.errors).toMatchObject([
      { pointer: '/madeFilesAfterDays', value: 0 },
    ]);
    expect((await put(who, {})).status).toBe(422);
    const rules = { madeFilesAfterDays: 7, pointResultsAfterDays: null };
    expect((await put(who, rules)).body).toMatchObject({ rules, changedAt: expect.any(String) });
    expect(await kept(member)).toMatchObject({ rules });
    await put(who, NO_RULES);
    expect(await kept(member)).toMatchObject({ rules: NO_RULES });
  });
});

describe('results of points', () => {
  test('are thinned where nobody needs them whole: numbers, input, verdict and engine version stay', async () => {
    const who = await site.person();
    const old = await pointOf(who);
    const before = await evaluation(who, old.id);
    const line = (await site.call(who, 'GET', `/v1/evaluations?batchId=${old.undertakingId}`)).body;
    await put(who, { ...NO_RULES, pointResultsAfterDays: 30 });
    expect((await kept(who)).wouldFreeNow.pointResults.count).toBe(1);
    expect(await apply()).toMatchObject({
      teamId: who.teamId,
      madeFiles: { count: 0 },
      pointResults: { count: 1, bytes: expect.any(Number) },
    });
    const after = await evaluation(who, old.id);
    expect(after).toEqual({ ...before, result: null, thinnedAt: expect.any(String), finishedAt: after.finishedAt });
    expect((await site.call(who, 'GET', `/v1/evaluations?batchId=${old.undertakingId}`)).body.items).toEqual(line.items);
    expect((await kept(who)).wouldFreeNow.pointResults.count).toBe(0);
    // Nothing more to do: the team's turn comes again in an hour.
    expect(await apply()).toBeNull();
    const difference = (await site.call(who, 'GET', `/v1/evaluations/${old.id}/difference?with=${old.id}`)).body;
    expect(difference).toMatchObject({ parameters: { differing: [] }, results: null });
    const order = await site.call(who, 'POST', `/v1/evaluations/${old.id}/files`, { body: { name: 'report.html' } });
    expect(order).toMatchObject({ status: 409, body: { code: 'thinned' } });
  });

  test('that were thinned serve a batch as they are, and are computed again for whoever posts the same', async () => {
    const who = await site.person();
    const { id, input } = await pointOf(who);
    await put(who, { ...NO_RULES, pointResultsAfterDays: 30 });
    await apply();
    const { evaluations } = site.records;
    const submission = { input, inputHash: inputHash(input), engineVersion: ENGINE_VERSION, designId: null, versionId: null };
    const asPoint = await evaluations.submit(who.teamId, { ...submission, askedFor: false, whole: false });
    expect(asPoint).toMatchObject({ dispatch: null, evaluation: { id, status: 'done', verdict: resultWith().printability.verdict } });
    expect(asPoint.evaluation.quantities.massG).toBe(300);
    const { parameterSet, ...records } = exampleRequest;
    const body = { ...records, parameterSet: { ...exampleParameterSet, carrier: input.parameterSet.carrier } };
    const posted = (await site.call(who, 'POST', '/v1/evaluations', { body })).body;
    expect(posted).toMatchObject({ id, status: 'queued', thinnedAt: null, result: null });
    await finish(site.records, who.teamId, id, resultWith({ massG: 300 }));
    expect(await evaluation(who, id)).toMatchObject({ status: 'done', thinnedAt: null, result: { massProperties: { massG: 300 } } });
    // Somebody asked for it now: it stays.
    await aged(id, 40);
    await put(who, { ...NO_RULES, pointResultsAfterDays: 30 });
    expect(await apply()).toMatchObject({ pointResults: { count: 0 } });
    expect(parameterSet).toBeDefined();
  });

  test('stay whole where they are young, asked for, of a version, named by a search, of a re-evaluation, or under way', async () => {
    const who = await site.person();
    const { designId, versions } = await printedDesign(site, who, 1);
    const gone = await pointOf(who);
    const young = await pointOf(who, { daysAgo: 20 });
    const underWay = await pointOf(who, { ended: false });
    const again = await pointOf(who, { kind: 'reevaluation' });
    const [best, ranked, tried] = [
      await pointOf(who, { kind: 'search' }),
      await pointOf(who, { kind: 'search' }),
      await pointOf(who, { kind: 'search' }),
    ];
    const outcome = (id: string, value: object) =>
      client.query('update app.undertaking set outcome = $2 where id = $1', [id, JSON.stringify(value)]);
    await outcome(best.undertakingId, { best: { evaluationId: best.id }, ranking: [] });
    await outcome(ranked.undertakingId, { best: null, ranking: [{ evaluationId: gone.id }, { evaluationId: ranked.id }] });
    await outcome(tried.undertakingId, { best: null, ranking: [], trials: [{ evaluationId: tried.id }] });
    const shared = await pointOf(who);
    await pointOf(who, { input: shared.input, ended: false });
    const { evaluations } = site.records;
    const ofVersion = await pointOf(who);
    const { input } = ofVersion;
    const submission = {
      input,
      inputHash: inputHash(input),
      engineVersion: ENGINE_VERSION,
      designId,
      versionId: versions[0],
      askedFor: false,
    };
    await evaluations.submit(who.teamId, submission);
    const asked = (await site.call(who, 'POST', '/v1/evaluations', { body: { ...exampleRequest, versionId: undefined } })).body.id;
    await finish(site.records, who.teamId, asked);
    await aged(asked, 400);
    const theirs = await pointOf(await site.person());
    await put(who, { ...NO_RULES, pointResultsAfterDays: 30 });
    expect((await kept(who)).wouldFreeNow.pointResults.count).toBe(2);
    expect(await apply()).toMatchObject({ pointResults: { count: 2 } });
    const whole = async (id: string) =>
      (
        await client.query(
          'select result is not null as whole from app.computation c join app.evaluation e on e.computation_id = c.id where e.id = $1',
          [id],
        )
      ).rows[0].whole;
    for (const each of [gone, tried]) expect(await whole(each.id)).toBe(false);
    for (const [name, { id }] of Object.entries({
      young,
      underWay,
      again,
      best,
      ranked,
      shared,
      ofVersion,
      asked: { id: asked },
      theirs,
    })) {
      expect(await whole(id), name).toBe(true);
    }
  });

  test('go piece by piece, and each only once', async () => {
    const who = await site.person();
    for (let k = 0; k < 5; k++) await pointOf(who);
    await put(who, { ...NO_RULES, pointResultsAfterDays: 30 });
    const pieces = await Promise.all([site.records.retention.apply(2), site.records.retention.apply(2)]);
    for (let piece = await site.records.retention.apply(2); piece; piece = await site.records.retention.apply(2)) pieces.push(piece);
    const counts = pieces.flatMap((each) => each?.pointResults.count ?? []);
    expect(counts.reduce((sum, each) => sum + each, 0)).toBe(5);
    expect(Math.max(...counts)).toBe(2);
  });
});

test('files that were ordered go, and are made again; those that came with the evaluation stay', async () => {
  const who = await site.person();
  const { id } = (await site.call(who, 'POST', '/v1/evaluations', { body: exampleRequest })).body;
  await finish(site.records, who.teamId, id);
  const order = () => site.call(who, 'POST', `/v1/evaluations/${id}/files`, { body: { name: 'lattice.stl' } });
  const make = async (days: number) => {
    expect((await order()).body.status).toBe('queued');
    const { computationId } = (await site.records.files.ordered(who.teamId, id, 'lattice.stl'))!;
    await site.records.computations.claim(computationId, 'a test');
    const files = [{ name: 'lattice.stl', mediaType: 'model/stl', content: new Uint8Array(1000).fill(7) }];
    await site.records.computations.finish(computationId, { result: { file: 'lattice.stl' }, files });
    await client.query(`update app.computation set finished_at = now() - $2 * interval '1 day' where id = $1`, [computationId, days]);
  };
  const names = async () =>
    (await site.call(who, 'GET', `/v1/evaluations/${id}/files`)).body.items.map(({ name }: { name: string }) => name);
  await make(8);
  await aged(id, 400);
  await put(who, { ...NO_RULES, madeFilesAfterDays: 10 });
  expect(await apply()).toMatchObject({ madeFiles: { count: 0 } });
  expect(await names()).toEqual(['graph.json', 'lattice.stl']);
  await put(who, { ...NO_RULES, madeFilesAfterDays: 7 });
  expect((await kept(who)).wouldFreeNow.madeFiles).toMatchObject({ count: 1, complete: true });
  expect(await apply()).toMatchObject({ madeFiles: { count: 1, bytes: expect.any(Number) }, pointResults: { count: 0 } });
  expect(await names()).toEqual(['graph.json']);
  expect((await evaluation(who, id)).result).not.toBeNull();
  await make(0);
  expect(await names()).toEqual(['graph.json', 'lattice.stl']);
});
