import { randomUUID } from 'node:crypto';
import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ENGINE_VERSION, exampleBatchRequest, type ResolvedInput } from '../../openapi/index.ts';
import { batchUndertaking } from '../../worker/batches.ts';
import { newBoard } from '../../worker/engine-board.ts';
import runEngine from '../../worker/engine-thread.ts';
import { sampleResult, sampleSubmission } from '../prisma/samples.ts';
import { readDrawing } from '../support/drawing.ts';
import { openSite, type Person, type Site } from './site.ts';

const POINTS = 48;
const PATHS = ['layers.0.strutDiameterMm', 'links.strutDiameterMm', 'tiling'];
let site: Site;
let coach: Person;
let batchId: string;

/** Stands for the engine: what a lattice of these diameters is to weigh and to cost. */
const massOf = (outer: number, links: number, m: number) => 100 + 40 * outer + 10 * links ** 2 + (m === 4 ? 25 : 0);
const costOf = (mass: number, links: number) => 80 - mass / 10 + links;

/** A batch whose points are done: what a worker would do, with figures that are known. */
beforeAll(async () => {
  site = await openSite();
  coach = await site.person();
  const body = { ...exampleBatchRequest, finishBy: null, sampling: { kind: 'sobol', points: POINTS } };
  batchId = (await site.call(coach, 'POST', '/v1/batches', { body })).body.id;
  const computations: string[] = [];
  const queue = { add: async (ids: readonly string[]) => void computations.push(...ids) };
  await batchUndertaking({ records: site.records, queue }).advance(batchId);
  for (const id of computations) {
    const { input } = (await site.records.computations.claim(id, 'a test')) as { input: ResolvedInput };
    const { layers, links, tiling } = input.parameterSet;
    const strut = (links as { strutDiameterMm: number }).strutDiameterMm;
    const massG = massOf(layers[0].strutDiameterMm, strut, tiling.m);
    const result = sampleResult({ massG, cost: costOf(massG, strut) });
    await site.records.computations.finish(id, { result, files: [] });
  }
});
afterAll(() => site.close());

const post = (body: object, headers: Record<string, string> = {}) => site.call(coach, 'POST', '/v1/surfaces', { body, headers });
const point = (outer: number, links: number, m: number, n: number) => [
  { path: PATHS[0], value: outer },
  { path: PATHS[1], value: links },
  { path: PATHS[2], value: { n, m } },
];

/** Does what a worker does. */
async function work(id: string): Promise<void> {
  const claim = (await site.records.computations.claim(id, 'a test'))!;
  const answer = await runEngine({ ...claim, board: newBoard() });
  if (answer.kind !== 'done') throw new Error(JSON.stringify(answer));
  await site.records.computations.finish(id, answer);
}

describe('a surface', () => {
  let id: string;
  test('is fitted to what a batch found, and found again by the same question', async () => {
    const key = { 'idempotency-key': randomUUID() };
    const accepted = await post({ batchId, quantities: ['massG', 'totalPerPart'] }, key);
    expect(accepted.status).toBe(202);
    id = accepted.body.id;
    expect((await post({ batchId, quantities: ['massG', 'totalPerPart'] }, key)).text).toBe(accepted.text);
    expect((await post({ batchId, quantities: ['massG', 'totalPerPart'] })).body.id).toBe(id);
    expect(accepted.headers.location).toBe(`/v1/surfaces/${id}`);
    expect(accepted.body).toMatchObject({ status: 'queued', batchId, searchId: null, finished: POINTS, points: POINTS, result: null });
    expect(accepted.body.factors.map(({ path }: { path: string }) => path)).toEqual(PATHS);
    const early = await site.call(coach, 'POST', `/v1/surfaces/${id}/predictions`, { body: { points: [point(4, 3, 3, 3)] } });
    expect(early.body.code).toBe('not-finished');

    await work(id);
    const { body } = await site.call(coach, 'GET', `/v1/surfaces/${id}`);
    expect(body).toMatchObject({ status: 'done', error: null });
    const [mass] = body.result.quantities;
    // a quadratic in two numbers and a choice of two: nothing is left but rounding
    expect(mass.explained).toBeGreaterThan(1 - 1e-9);
    expect(mass.candidates).toHaveLength(2);
    expect((await site.call(coach, 'GET', '/v1/surfaces')).body.items).toMatchObject([
      { id, points: POINTS, quantities: ['massG', 'totalPerPart'] },
    ]);
  });

  test('answers what if at once, with intervals, and says where it knows nothing', async () => {
    const points = [point(3.7, 3.1, 3, 3), point(3.7, 3.1, 4, 2), point(5.5, 3, 3, 3)];
    const { status, body } = await site.call(coach, 'POST', `/v1/surfaces/${id}/predictions`, { body: { points } });
    expect(status).toBe(200);
    for (const [k, m] of [3, 4].entries()) {
      const { quantities, extrapolates } = body.items[k];
      expect(extrapolates).toBe(false);
      const mass = massOf(3.7, 3.1, m);
      expect(Math.abs(quantities.massG.value / mass - 1)).toBeLessThan(1e-6);
      expect(Math.abs(quantities.totalPerPart.value / costOf(mass, 3.1) - 1)).toBeLessThan(1e-6);
      expect(quantities.massG.low).toBeLessThanOrEqual(quantities.massG.value);
      expect(quantities.massG.high).toBeGreaterThanOrEqual(quantities.massG.value);
    }
    expect(body.items[2].extrapolates).toBe(true);
  });

  test.each<[string, object[], string, RegExp]>([
    [
      'a path that was not varied',
      [...point(4, 3, 3, 3), { path: 'layers.1.depthMm', value: 9 }],
      '/points/0/3/path',
      /not varied.*allowed: layers.0/,
    ],
    ['a path twice', [...point(4, 3, 3, 3), { path: PATHS[0], value: 9 }], '/points/0/3/path', /is given twice/],
    ['a path left out', point(4, 3, 3, 3).slice(1), '/points/0', /lacks layers.0.strutDiameterMm/],
    [
      'a choice where a number stands',
      [{ path: PATHS[0], value: 'thick' }, ...point(4, 3, 3, 3).slice(1)],
      '/points/0/0/value',
      /allowed: a number, at least 1/,
    ],
    [
      'a number more than a range outside',
      [{ path: PATHS[0], value: 40 }, ...point(4, 3, 3, 3).slice(1)],
      '/points/0/0/value',
      /at most 6\.9/,
    ],
    ['no choice of the batch', point(4, 3, 5, 5), '/points/0/2/value', /allowed: \{"m":3,"n":3\}/],
  ])('is not asked about %s', async (_, settings, pointer, detail) => {
    const { status, body } = await site.call(coach, 'POST', `/v1/surfaces/${id}/predictions`, { body: { points: [settings] } });
    expect(status).toBe(422);
    expect(body.errors[0]).toMatchObject({ pointer });
    expect(body.errors[0].detail).toMatch(detail);
  });

  test('needs enough evaluations that have every quantity, and a batch of the team', async () => {
    const rebound = await post({ batchId, quantities: ['massG', 'restitution'] });
    expect(rebound.body.errors[0]).toMatchObject({ pointer: '/batchId', detail: expect.stringMatching(/has 0 .*at least 20/) });
    expect((await post({ searchId: batchId, quantities: ['massG'] })).body.errors[0]).toMatchObject({ pointer: '/searchId' });
    expect((await post({ quantities: ['massG'] })).body.errors[0]).toMatchObject({ pointer: '/batchId' });
    expect((await post({ batchId, searchId: batchId, quantities: ['massG'] })).body.errors[0]).toMatchObject({ pointer: '/searchId' });
    expect((await post({ batchId, quantities: ['massG', 'massG'] })).body.errors[0]).toMatchObject({ pointer: '/quantities/1' });
    const other = await site.person();
    expect((await site.call(other, 'POST', '/v1/surfaces', { body: { batchId, quantities: ['massG'] } })).status).toBe(422);
    expect((await site.call(other, 'GET', `/v1/surfaces/${id}`)).status).toBe(404);
    expect((await site.call(other, 'GET', '/v1/surfaces')).body.items).toEqual([]);
  });
});

test('a surface over the evaluations of a search knows what the search left free', async () => {
  const input = { free: [{ path: 'carrier.outsideDiameterMm', min: 100, max: 130 }] };
  const { id: searchId } = await site.records.undertakings.create(coach.teamId, { kind: 'search', name: '', input, total: 24 });
  const computations = await site.records.undertakings.advance(searchId, async (held) => {
    for (let k = 0; k < 24; k++) await held.submit(sampleSubmission(100 + 1.25 * k));
  });
  for (const id of computations) {
    const { input: given } = (await site.records.computations.claim(id, 'a test')) as { input: ResolvedInput };
    const massG = given.parameterSet.carrier.outsideDiameterMm ** 2 / 100;
    await site.records.computations.finish(id, { result: sampleResult({ massG }), files: [] });
  }
  const { id } = (await post({ searchId, quantities: ['massG'] })).body;
  await work(id);
  const points = [[{ path: 'carrier.outsideDiameterMm', value: 117 }]];
  const { items } = (await site.call(coach, 'POST', `/v1/surfaces/${id}/predictions`, { body: { points } })).body;
  expect(Math.abs(items[0].quantities.massG.value / 136.89 - 1)).toBeLessThan(1e-6);
});

describe('effects', () => {
  test('tell how a quantity follows each parameter', async () => {
    const { status, body } = await site.call(coach, 'GET', `/v1/batches/${batchId}/effects?quantity=massG`);
    expect(status).toBe(200);
    expect(body).toMatchObject({ quantity: 'massG', finished: POINTS, points: POINTS });
    const [outer, , tiling] = body.parameters;
    expect(body.parameters.map(({ path }: { path: string }) => path)).toEqual(PATHS);
    expect(tiling.levels.map(({ choice }: { choice: unknown }) => choice)).toEqual([
      { m: 3, n: 3 },
      { m: 4, n: 2 },
    ]);
    // what four intervals leave of the numbers, 80 / 4 and 10 (4.5^2 - 2^2) / 4 over the root of 12, is the noise of two means of 24: three times 3.8
    expect(Math.abs(tiling.levels[1].effect - tiling.levels[0].effect - 25)).toBeLessThan(11.4);
    const means = outer.levels.map(({ mean }: { mean: number }) => mean);
    expect(means.at(-1)).toBeGreaterThan(means[0]);
  });

  test('are of a quantity that is there, and of a batch of the team', async () => {
    const none = await site.call(coach, 'GET', `/v1/batches/${batchId}/effects?quantity=restitution`);
    expect(none.body).toMatchObject({ finished: 0, points: 0, mean: null, deviation: null, rest: null });
    expect((await site.call(coach, 'GET', `/v1/batches/${batchId}/effects`)).status).toBe(400);
    expect((await site.call(coach, 'GET', `/v1/batches/${randomUUID()}/effects?quantity=massG`)).status).toBe(404);
  });

  test('of any selection of the history follow what differs in it, the same as of the batch where that is all of it', async () => {
    const effects = async (query: string) => (await site.call(coach, 'GET', `/v1/evaluations/effects?${query}`)).body;
    const whole = await effects(`batchId=${batchId}&quantity=massG`);
    expect(whole).toMatchObject({ quantity: 'massG', finished: POINTS, points: POINTS, complete: true, warnings: [] });
    // The tiling of the batch is two numbers here, which were always changed together.
    expect(whole.parameters).toHaveLength(4);
    expect(whole.parameters.map(({ path }: { path: string }) => path)).toEqual(
      expect.arrayContaining([PATHS[0], PATHS[1], 'tiling.m', 'tiling.n']),
    );
    const named = await effects(`batchId=${batchId}&quantity=massG&path=${PATHS[0]}&path=tiling.m&path=${PATHS[1]}`);
    expect(named.parameters.map(({ path }: { path: string }) => path)).toEqual([PATHS[0], 'tiling.m', PATHS[1]]);
    const [, ofTiling] = named.parameters;
    expect(ofTiling.levels.map(({ from, count }: { from: number; count: number }) => [from, count])).toEqual([
      [3, POINTS / 2],
      [4, POINTS / 2],
    ]);
    const batch = (await site.call(coach, 'GET', `/v1/batches/${batchId}/effects?quantity=massG`)).body;
    expect([named.mean, named.deviation]).toEqual([expect.closeTo(batch.mean, 9), expect.closeTo(batch.deviation, 9)]);
    expect(ofTiling.share).toBeCloseTo(batch.parameters[2].share, 6);
    // A filter narrows it; another team has nothing of it.
    const heavy = await effects(`batchId=${batchId}&quantity=massG&massG.gte=${batch.mean}`);
    expect(heavy.finished).toBeGreaterThan(0);
    expect(heavy.finished).toBeLessThan(POINTS);
    const stranger = await site.person();
    const theirs = (await site.call(stranger, 'GET', `/v1/evaluations/effects?batchId=${batchId}&quantity=massG`)).body;
    expect(theirs).toMatchObject({ finished: 0, points: 0, mean: null, parameters: [] });
    const drawn = await site.call(coach, 'GET', `/v1/evaluations/effects.svg?batchId=${batchId}&quantity=massG`);
    expect(drawn.text).toContain('tiling.m');
    expect((await site.call(coach, 'GET', '/v1/evaluations/effects?batchId=x')).status).toBe(400);
  });

  test('fronts, effects and surfaces over several versions of the engine say so', async () => {
    const client = new Client({ connectionString: site.databaseUrl });
    await client.connect();
    const { rowCount } = await client.query(
      `update app.evaluation set engine_version = '1.0.0' where id in (select evaluation_id from app.member where undertaking_id = $1 and index < 5)`,
      [batchId],
    );
    expect(rowCount).toBe(5);
    await client.end();
    const mixed = [
      { engineVersion: '1.0.0', count: 5 },
      { engineVersion: ENGINE_VERSION, count: POINTS - 5 },
    ];
    const warnings = [expect.objectContaining({ code: 'mixed-engine-versions', engineVersions: mixed })];
    for (const url of [
      `/v1/batches/${batchId}/effects?quantity=massG`,
      `/v1/evaluations/effects?batchId=${batchId}&quantity=massG`,
      `/v1/evaluations/front?batchId=${batchId}&minimise=massG&minimise=totalPerPart`,
    ])
      expect((await site.call(coach, 'GET', url)).body.warnings, url).toEqual(warnings);
    expect((await post({ batchId, quantities: ['massG'] })).body.warnings).toEqual(warnings);
    const alone = `/v1/evaluations/effects?batchId=${batchId}&quantity=massG&engineVersion=1.0.0`;
    expect((await site.call(coach, 'GET', alone)).body).toMatchObject({ finished: 5, warnings: [] });
  });

  test('are drawn too: a mark for each level, under the name of its parameter', async () => {
    const url = `/v1/batches/${batchId}/effects`;
    const { parameters } = (await site.call(coach, 'GET', `${url}?quantity=massG`)).body;
    const { status, headers, text } = await site.call(coach, 'GET', `${url}.svg?quantity=massG`);
    expect([status, headers['content-type'], headers['content-disposition']]).toEqual([
      200,
      'image/svg+xml',
      'inline; filename="effects.svg"',
    ]);
    const levels = parameters.flatMap((each: { levels: object[] }) => each.levels);
    const [dots] = readDrawing(text).marks('dot');
    expect(dots).toHaveLength(levels.length);
    for (const path of PATHS) expect(text).toContain(path);
    expect(text).toContain('mass, g');
  });
});

describe('the front', () => {
  const front = (query: string) => site.call(coach, 'GET', `/v1/evaluations/front?${query}`);
  test('is what nothing beats, over the filters of the history', async () => {
    const { status, body } = await front(`batchId=${batchId}&minimise=massG&minimise=totalPerPart`);
    expect(status).toBe(200);
    const all = (await site.call(coach, 'GET', `/v1/evaluations?batchId=${batchId}&limit=200`)).body.items.map(
      ({ id, quantities }: { id: string; quantities: { massG: number; totalPerPart: number } }) => ({ id, ...quantities }),
    );
    const beats = (a: (typeof all)[0], b: (typeof all)[0]) =>
      a.massG <= b.massG && a.totalPerPart <= b.totalPerPart && (a.massG < b.massG || a.totalPerPart < b.totalPerPart);
    const wanted = all.filter((each: (typeof all)[0]) => !all.some((other: (typeof all)[0]) => beats(other, each)));
    expect(body).toMatchObject({
      minimise: ['massG', 'totalPerPart'],
      maximise: [],
      lookedAt: POINTS,
      complete: true,
      count: wanted.length,
    });
    wanted.sort((a: (typeof all)[0], b: (typeof all)[0]) => a.massG - b.massG);
    expect(body.items.map(({ id }: { id: string }) => id)).toEqual(wanted.map(({ id }: { id: string }) => id));

    const light = await front(`batchId=${batchId}&massG.lte=300&minimise=massG&maximise=totalPerPart`);
    // the lightest costs most, but for what the links add
    expect(light.body.lookedAt).toBeLessThan(POINTS);
    expect(light.body.items[0].quantities.massG).toBe(Math.min(...all.map(({ massG }: { massG: number }) => massG)));
    expect((await front('minimise=massG&maximise=restitution')).body).toMatchObject({ lookedAt: 0, count: 0, items: [] });
  });

  test('is drawn from the same question, with units and what is better on the axes', async () => {
    const draw = (query: string) => site.call(coach, 'GET', `/v1/evaluations/front.svg?${query}`);
    const query = `batchId=${batchId}&minimise=massG&minimise=totalPerPart`;
    const { count, lookedAt } = (await front(query)).body;
    const { status, headers, text } = await draw(query);
    expect([status, headers['content-type'], headers['content-disposition']]).toEqual([
      200,
      'image/svg+xml',
      'inline; filename="front.svg"',
    ]);
    // 48 points lie on as many spots
    const [beaten, best] = readDrawing(text)
      .marks('dot')
      .map((shapes) => shapes.length);
    expect([beaten, best]).toEqual([lookedAt - count, count]);
    for (const words of ['mass, g (less is better)', 'currency of its records (less is better)']) expect(text).toContain(words);
    expect((await draw('minimise=massG&maximise=restitution')).text).toContain('No evaluation has both numbers yet.');
    expect((await draw('minimise=massG')).body.errors[0].pointer).toBe('/minimise');
  });

  test('is of two to four quantities, each once', async () => {
    const refusal = async (query: string) => (await front(query)).body.errors[0];
    expect(await refusal('minimise=massG')).toMatchObject({
      pointer: '/minimise',
      detail: expect.stringMatching(/two quantities at least/),
    });
    expect(await refusal('minimise=massG&maximise=massG')).toMatchObject({ detail: expect.stringMatching(/names massG twice/) });
    expect(await refusal('minimise=weight&maximise=massG')).toMatchObject({ pointer: '/minimise', value: 'weight' });
    expect(await refusal('minimise=massG&maximise=restitution&sort=massG')).toMatchObject({ pointer: '/sort' });
  });
});
