import { createHash, randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { newBoard } from '../../worker/engine-board.ts';
import runEngine from '../../worker/engine-thread.ts';
import { checkThreeMf } from '../engine/export/three-mf-rules.ts';
import { SMALL_BALL } from '../engine/inputs.ts';
import { ask } from './ask.ts';
import { bearer, openSite, type Person, type Site } from './site.ts';

let site: Site;
let coach: Person;
const MAKING = { material: 'tpu-soft', buildVolume: 'medium-polymer' };
const AIRY = {
  ...SMALL_BALL,
  carrier: { shape: 'sphere', outsideDiameterMm: 110 },
  layers: [SMALL_BALL.layers[0], { depthMm: 13, strutDiameterMm: 2.5 }],
};

/** A design with as many versions, each thicker than the last; their ids. */
async function versions(count: number, who = coach): Promise<string[]> {
  const design = (await site.call(who, 'POST', '/v1/designs', { body: { name: 'Tray' } })).body;
  const ids: string[] = [];
  for (let k = 0; k < count; k++) {
    const parameterSet = { ...AIRY, layers: [{ depthMm: 0, strutDiameterMm: 3 + 0.2 * k }, AIRY.layers[1]] };
    ids.push((await site.call(who, 'POST', `/v1/designs/${design.id}/versions`, { body: { parameterSet } })).body.id);
  }
  return ids;
}
const post = (parts: object[], more: object = {}, who = coach) =>
  site.call(who, 'POST', '/v1/trays', { body: { parts, ...MAKING, ...more } });
const get = async (id: string, who = coach) => (await site.call(who, 'GET', `/v1/trays/${id}`)).body;

/** Does what a worker does. */
async function work(id: string): Promise<void> {
  const claim = (await site.records.computations.claim(id, 'a test'))!;
  const answer = await runEngine({ ...claim, board: newBoard() });
  if (answer.kind === 'done') await site.records.computations.finish(id, answer);
  else if (answer.kind === 'failed') await site.records.computations.fail(id, { error: answer.error, retryable: false });
  else throw new Error(JSON.stringify(answer));
}

beforeAll(async () => {
  site = await openSite();
  coach = await site.person();
});
afterAll(() => site.close());

describe('a tray', () => {
  test('is accepted, planned by a worker, and then holds places, marks, times and costs', async () => {
    const [first, second] = await versions(2);
    const accepted = await post([
      { versionId: first, count: 2 },
      { versionId: second, count: 1 },
    ]);
    expect(accepted.status).toBe(202);
    expect(accepted.headers.location).toBe(`/v1/trays/${accepted.body.id}`);
    expect(accepted.body).toMatchObject({ status: 'queued', result: null, input: { parts: [{ mark: 1 }, { mark: 2 }] } });
    await work(accepted.body.id);
    const { status, result } = await get(accepted.body.id);
    expect(status).toBe('done');
    expect(result.fits).toBe(true);
    expect(
      result.parts.map((part: { versionId: string; placed: number; mark: { number: number } }) => [
        part.versionId,
        part.placed,
        part.mark.number,
      ]),
    ).toEqual([
      [first, 2, 1],
      [second, 1, 2],
    ]);
    expect(result.placements).toHaveLength(3);
    expect(
      (
        await post([
          { versionId: first, count: 2 },
          { versionId: second, count: 1 },
        ])
      ).body,
    ).toMatchObject({ id: accepted.body.id, status: 'done' });
  });

  test('has its files, with checksums and in ranges: a 3MF that keeps to the rules, and every layer', async () => {
    const [only] = await versions(1);
    const { id } = (await post([{ versionId: only, count: 2 }])).body;
    expect((await site.call(coach, 'GET', `/v1/trays/${id}/files`)).body.items).toEqual([]);
    await work(id);
    const { items } = (await site.call(coach, 'GET', `/v1/trays/${id}/files`)).body;
    expect(items.map(({ name }: { name: string }) => name)).toEqual(['layers.json', 'tray.3mf']);
    const file = (headers: Record<string, string> = {}) =>
      ask(site.app.server, { url: `/v1/trays/${id}/files/tray.3mf`, headers: { ...bearer(coach), ...headers } });
    const whole = await file();
    expect(whole.headers).toMatchObject({ 'content-type': 'model/3mf', 'content-disposition': `attachment; filename="${id}-tray.3mf"` });
    expect(createHash('sha256').update(whole.bytes).digest('hex')).toBe(items[1].sha256);
    expect(whole.headers.etag).toBe(`"${items[1].sha256}"`);
    const { broken, items: placed } = checkThreeMf(whole.bytes);
    expect([broken, placed.length]).toEqual([[], 2]);
    const part = await file({ range: 'bytes=10-29' });
    expect([part.status, part.bytes]).toEqual([206, whole.bytes.subarray(10, 30)]);
    const layers = await ask(site.app.server, { url: `/v1/trays/${id}/files/layers.json`, headers: bearer(coach) });
    const { result } = await get(id);
    expect(layers.body.seconds).toHaveLength(result.build.layerCount);
    expect((await site.call(coach, 'GET', `/v1/trays/${id}/files/graph.json`)).status).toBe(404);
  });

  test('of two designs, whose versions have one number, marks the places of the list; or nothing, where that is asked for', async () => {
    const [a, b] = [(await versions(1))[0], (await versions(2))[0]];
    const parts = [
      { versionId: a, count: 1 },
      { versionId: b, count: 1 },
    ];
    expect((await post(parts)).body.input.parts.map(({ mark }: { mark: number }) => mark)).toEqual([1, 2]);
    expect((await post(parts, { marks: 'none' })).body.input.parts.map(({ mark }: { mark: number }) => mark)).toEqual([null, null]);
  });

  test('that fails says why, by a code', async () => {
    const design = (await site.call(coach, 'POST', '/v1/designs', { body: { name: 'Too large' } })).body;
    const parameterSet = { ...AIRY, carrier: { shape: 'sphere', outsideDiameterMm: 600 } };
    const large = (await site.call(coach, 'POST', `/v1/designs/${design.id}/versions`, { body: { parameterSet } })).body;
    const { id } = (await post([{ versionId: large.id, count: 1 }])).body;
    await work(id);
    const error = { code: 'refused-tray', details: { left: [{ versionId: large.id, count: 1 }] } };
    expect(await get(id)).toMatchObject({ status: 'failed', result: null, error });
    expect((await site.call(coach, 'GET', `/v1/trays/${id}/files`)).body.items).toEqual([]);
  });

  test('is cancelled while it waits, is wanted again when it is posted again, and not once it is done', async () => {
    const [only] = await versions(1);
    const { id } = (await post([{ versionId: only, count: 3 }])).body;
    for (let k = 0; k < 2; k++) expect((await site.call(coach, 'DELETE', `/v1/trays/${id}`)).body.status).toBe('cancelled');
    expect(await site.records.computations.claim(id, 'a test')).toBeNull();
    expect((await post([{ versionId: only, count: 3 }])).body).toMatchObject({ id, status: 'queued' });
    await work(id);
    expect((await site.call(coach, 'DELETE', `/v1/trays/${id}`)).body.code).toBe('already-finished');
  });

  test('is made once under an Idempotency-Key', async () => {
    const [only] = await versions(1);
    const asked = { body: { parts: [{ versionId: only, count: 4 }], ...MAKING }, headers: { 'idempotency-key': randomUUID() } };
    const [first, again] = [await site.call(coach, 'POST', '/v1/trays', asked), await site.call(coach, 'POST', '/v1/trays', asked)];
    expect(first.status).toBe(202);
    expect([again.status, again.body, again.headers.location]).toEqual([first.status, first.body, first.headers.location]);
  });

  test('stands in the list, newest first, page by page; other teams see none of it', async () => {
    const own = await site.person();
    const [only] = await versions(1, own);
    const ids: string[] = [];
    for (const count of [1, 2, 3]) ids.unshift((await post([{ versionId: only, count }], {}, own)).body.id);
    const page = (await site.call(own, 'GET', '/v1/trays?limit=2')).body;
    expect(page.items.map(({ id }: { id: string }) => id)).toEqual(ids.slice(0, 2));
    expect(page.items[0].parts).toEqual([{ versionId: only, count: 3 }]);
    const rest = (await site.call(own, 'GET', `/v1/trays?limit=2&cursor=${page.nextCursor}`)).body;
    expect([rest.items.map(({ id }: { id: string }) => id), rest.nextCursor]).toEqual([ids.slice(2), null]);
    for (const [method, path] of [
      ['GET', ''],
      ['DELETE', ''],
      ['GET', '/files'],
      ['GET', '/files/tray.3mf'],
    ] as const)
      expect((await site.call(coach, method, `/v1/trays/${ids[0]}${path}`)).status).toBe(404);
    expect((await get(ids[0], own)).status).toBe('queued');
  });

  test('is refused with the fields at fault: versions, counts, records', async () => {
    const [only] = await versions(1);
    const stranger = await site.person();
    const [theirs] = await versions(1, stranger);
    const before = await site.rows();
    const cases: [object[], object, string[]][] = [
      [[], {}, ['/parts']],
      [[{ versionId: only, count: 0 }], {}, ['/parts/0/count']],
      [
        [
          { versionId: only, count: 1 },
          { versionId: only, count: 2 },
        ],
        {},
        ['/parts/1/versionId'],
      ],
      [[{ versionId: theirs, count: 1 }], { material: 'nowhere' }, ['/parts/0/versionId', '/material']],
      [[{ versionId: only, count: 1 }], { marks: 'paint' }, ['/marks']],
    ];
    for (const [parts, more, pointers] of cases) {
      const refused = await post(parts, more);
      expect(refused.status).toBe(422);
      expect(refused.body.errors.map(({ pointer }: { pointer: string }) => pointer)).toEqual(pointers);
    }
    expect(await site.rows()).toEqual(before);
  });
});

describe('a mark of the version', () => {
  test('is asked for by name where a version is evaluated, and two marked versions are still alike', async () => {
    const [, second] = await versions(2);
    const made = await site.call(coach, 'POST', '/v1/evaluations', { body: { versionId: second, ...MAKING, build: { mark: 'version' } } });
    expect(made.body.input.build).toEqual({ mark: 2 });
    const bare = await site.call(coach, 'POST', '/v1/evaluations', { body: { parameterSet: AIRY, ...MAKING, build: { mark: 'version' } } });
    expect(bare.body.errors.map(({ pointer }: { pointer: string }) => pointer)).toEqual(['/build/mark']);
  });
});
