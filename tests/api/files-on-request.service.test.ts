import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exampleRequest } from '../../openapi/examples.ts';
import { batchUndertaking } from '../../worker/batches.ts';
import { newBoard } from '../../worker/engine-board.ts';
import runEngine from '../../worker/engine-thread.ts';
import { ask } from './ask.ts';
import { bearer, openSite, type Person, type Site } from './site.ts';

let site: Site;
let coach: Person;
let id: string;

/** Does what a worker does with everything that is queued. */
async function work(): Promise<void> {
  for (const computation of await site.records.computations.stale({ queuedMs: -1, silentMs: 60_000 })) {
    const claim = await site.records.computations.claim(computation, 'a test');
    if (!claim) continue;
    const answer = await runEngine({ ...claim, board: newBoard() });
    if (answer.kind === 'done') await site.records.computations.finish(computation, answer);
    else if (answer.kind === 'failed') await site.records.computations.fail(computation, { error: answer.error, retryable: false });
    else throw new Error(JSON.stringify(answer));
  }
}

const order = (body: object, who = coach, of = id) => site.call(who, 'POST', `/v1/evaluations/${of}/files`, { body });
const get = (name: string, who = coach, of = id) =>
  ask(site.app.server, { url: `/v1/evaluations/${of}/files/${name}`, headers: bearer(who) });

beforeAll(async () => {
  site = await openSite();
  coach = await site.person();
  const small = { ...exampleRequest.parameterSet, tiling: { ...exampleRequest.parameterSet.tiling, m: 1, n: 0 } };
  id = (await site.call(coach, 'POST', '/v1/evaluations', { body: { ...exampleRequest, parameterSet: small } })).body.id;
});
afterAll(() => site.close());

describe('files on request', () => {
  test('wait for an evaluation that is done', async () => {
    const answer = await order({ name: 'lattice.stl' });
    expect([answer.status, answer.body.code]).toEqual([409, 'not-finished']);
    await work();
  });

  test('are made by a worker, once, and then downloaded as any other', async () => {
    const before = await get('lattice.stl');
    expect([before.status, before.body.code]).toEqual([404, 'file-not-made']);
    expect(before.body.detail).toContain(`POST { "name": "lattice.stl" } to /v1/evaluations/${id}/files`);
    const ordered = await order({ name: 'lattice.stl', chordMm: 0.3 });
    expect(ordered.status).toBe(202);
    expect(ordered.headers.location).toBe(`/v1/evaluations/${id}/files/lattice-chordMm-0.3.stl`);
    expect(ordered.body).toMatchObject({ evaluationId: id, name: 'lattice-chordMm-0.3.stl', status: 'queued', error: null });
    const waiting = await get('lattice-chordMm-0.3.stl');
    expect([waiting.status, waiting.headers['retry-after']]).toEqual([404, '1']);
    expect(waiting.body.detail).toContain('being made');
    await work();
    const made = await get('lattice-chordMm-0.3.stl');
    expect([made.status, made.headers['content-type'], made.headers['accept-ranges']]).toEqual([200, 'model/stl', 'bytes']);
    const again = await order({ name: 'lattice.stl', chordMm: 0.3 });
    expect(again.body.status).toBe('done');
    const { body } = await site.call(coach, 'GET', `/v1/evaluations/${id}/files`);
    expect(body.items.map(({ name }: { name: string }) => name)).toEqual(['graph.json', 'lattice-chordMm-0.3.stl', 'lattice.3mf']);
  });

  test('an option at its default names no other file', async () => {
    const { headers } = await order({ name: 'section.svg', zMm: 0 });
    expect(headers.location).toMatch(/\/section\.svg$/);
  });

  test.each([
    [{ name: 'lattice.obj' }, '/name', 'lattice.stl'],
    [{ name: 'lattice.stl', chordMm: 0 }, '/chordMm', '0.005'],
    [{ name: 'lattice.stl', zMm: 3 }, '/zMm', 'is no option of lattice.stl; allowed: name, chordMm'],
    [{ name: 'bounce.png', frame: 13 }, '/frame', 'at most 12'],
    [{ name: 'energy.svg' }, '/name', 'needs an evaluation of tests.depth full'],
  ])('%j is refused at %s, with what is allowed', async (body, pointer, detail) => {
    const answer = await order(body);
    expect(answer.status).toBe(422);
    expect(answer.body.errors[0].pointer).toBe(pointer);
    expect(answer.body.errors[0].detail).toContain(detail);
  });

  test('are not to be had by another team', async () => {
    const stranger = await site.person();
    expect((await order({ name: 'lattice.stl' }, stranger)).status).toBe(404);
    expect((await get('lattice.3mf', stranger)).status).toBe(404);
  });

  test('the tables and drawings of one evaluation', async () => {
    for (const name of ['struts.csv', 'layers.csv', 'cells.svg', 'section.svg', 'layer-area.svg'])
      expect((await order({ name })).status).toBe(202);
    await work();
    const graph = (await get('graph.json')).body;
    const struts = (await get('struts.csv')).bytes.toString().trimEnd().split('\r\n');
    expect(struts.length).toBe(graph.struts.length + 1);
    const [first] = struts.slice(1).map((line) => line.split(',').map(Number));
    const [i, j, d] = graph.struts[0];
    expect(first.slice(1, 11)).toEqual(
      [i, j, ...graph.nodes[i], ...graph.nodes[j], d, graph.struts[0][3] ?? d].map((x) => Number(x.toPrecision(9))),
    );
    for (const name of ['cells.svg', 'section.svg', 'layer-area.svg']) {
      const file = await get(name);
      expect([name, file.headers['content-type']]).toEqual([name, 'image/svg+xml']);
      expect(file.bytes.toString()).toContain('<svg');
    }
  });

  test('a point of a batch keeps no files; graph.json and lattice.3mf are made when they are first asked for', async () => {
    const { parameterSet, ...conditions } = exampleRequest;
    const evaluation = { ...conditions, parameterSet: { ...parameterSet, tiling: { ...parameterSet.tiling, m: 1, n: 1 } } };
    const body = { evaluation, vary: [{ path: 'layers.0.strutDiameterMm', values: [3.1] }], sampling: { kind: 'grid' } };
    const batch = (await site.call(coach, 'POST', '/v1/batches', { body })).body.id;
    await batchUndertaking({ records: site.records, queue: { add: async () => undefined } }).advance(batch);
    const [{ id: member }] = (await site.call(coach, 'GET', `/v1/evaluations?batchId=${batch}`)).body.items;
    await work();
    const files = async () => (await site.call(coach, 'GET', `/v1/evaluations/${member}/files`)).body.items;
    expect(await files()).toEqual([]);
    const asked = get('graph.json', coach, member);
    while ((await files()).length === 0) await work();
    expect((await asked).status).toBe(200);
    expect((await asked).body.unit).toBe('mm');
    expect((await files()).map(({ name }: { name: string }) => name)).toEqual(['graph.json']);
  });
});
