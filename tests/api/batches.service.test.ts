import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exampleBatchRequest } from '../../openapi/index.ts';
import { openSite, type Person, type Site } from './site.ts';
import { printedDesign } from './test-house.ts';

let site: Site;
let coach: Person;
beforeAll(async () => {
  site = await openSite();
  coach = await site.person();
});
afterAll(() => site.close());

const post = (more: object) => site.call(coach, 'POST', '/v1/batches', { body: { ...exampleBatchRequest, ...more } });
const later = '2100-01-01T00:00:00Z';

describe('a batch', () => {
  test('is accepted with the number of its points, read, listed and, before it begins, cancelled', async () => {
    const { status, headers, body } = await post({ startAt: later, finishBy: null });
    expect(status).toBe(202);
    expect(body).toMatchObject({ status: 'queued', counts: { total: 512, queued: 512, done: 0 }, secondsLeft: null, startedAt: null });
    const url = headers.location!;
    expect((await site.call(coach, 'GET', url)).body).toEqual(body);
    expect((await site.call(coach, 'GET', '/v1/batches')).body.items).toEqual([body]);
    expect((await site.call(coach, 'DELETE', url)).body).toMatchObject({ status: 'cancelled' });
    expect((await site.call(coach, 'DELETE', url)).status).toBe(200);
    expect((await site.call(coach, 'PATCH', url, { body: { status: 'paused' } })).body.code).toBe('already-finished');
  });

  test('tells the version that it was posted from', async () => {
    const { designId, versions } = await printedDesign(site, coach, 2);
    const { parameterSet: _, ...conditions } = exampleBatchRequest.evaluation;
    const from = { startAt: later, finishBy: null };
    const { body } = await post({ evaluation: { ...conditions, versionId: versions[1] }, ...from });
    expect(body.origin).toEqual({ designId, versionId: versions[1], version: 2 });
    expect((await post(from)).body.origin).toBeNull();
  });

  test('of records by key shows the keys, and of a grid as many points as its values make', async () => {
    const vary = [
      { path: 'material', choices: ['tpu-soft', 'tpu-firm'] },
      { path: 'layers.1.depthMm', from: 10, to: 16, steps: 4 },
      {
        path: 'links',
        choices: [
          { pattern: 'posts', strutDiameterMm: 3 },
          { pattern: 'braced', strutDiameterMm: 2 },
        ],
      },
    ];
    const { body } = await post({ vary, sampling: { kind: 'grid' }, startAt: later, finishBy: null });
    expect(body.counts.total).toBe(16);
    expect(body.vary).toEqual(vary);
  });

  test('is paused, goes on, and is extended; a grid has all its points', async () => {
    const { headers } = await post({ startAt: later, finishBy: null });
    const change = (body: object) => site.call(coach, 'PATCH', headers.location!, { body });
    expect((await change({ status: 'paused' })).body.status).toBe('paused');
    expect((await change({ status: 'running' })).body.status).toBe('queued');
    expect((await change({ points: 600 })).body.counts.total).toBe(600);
    expect((await change({ points: 600 })).body.errors).toEqual([
      { pointer: '/points', value: 600, detail: 'is 600; allowed: more than the 600 there are' },
    ]);
    const grid = await post({
      vary: [{ path: 'layers.0.strutDiameterMm', values: [3, 4] }],
      sampling: { kind: 'grid' },
      startAt: later,
      finishBy: null,
    });
    const refused = await site.call(coach, 'PATCH', grid.headers.location!, { body: { points: 5 } });
    expect(refused.body.errors[0]).toMatchObject({ pointer: '/points' });
  });

  const path = (value: string, more: object = { values: [1] }) => ({ vary: [{ path: value, ...more }] });
  test.each([
    [
      'a path that leads nowhere',
      path('layers.0.thickness'),
      '/vary/0/path',
      /is "layers.0.thickness", which is not known; allowed: the path of a field/,
    ],
    ['a place past the end of a list', path('layers.2.depthMm'), '/vary/0/path', /there are 2 layers; allowed: places 0 to 1/],
    ['numbers where none stands', path('tiling.orientation'), '/vary/0/path', /which is no number; allowed: choices/],
    ['two forms at once', path('links.strutDiameterMm', { values: [1], from: 1, to: 2 }), '/vary/0', /takes no single form/],
    ['a range upside down', path('links.strutDiameterMm', { from: 4, to: 2 }), '/vary/0/from', /is 4; allowed: less than to, which is 2/],
    [
      'a material nobody has',
      path('material', { choices: ['tpu-soft', 'wood'] }),
      '/vary/0/choices/1',
      /is "wood", which is not known; allowed: /,
    ],
    ['samples without a number of points', { sampling: { kind: 'sobol' } }, '/sampling/points', /is missing; required: 1 to 100000/],
    [
      'a base that is refused',
      { evaluation: { ...exampleBatchRequest.evaluation, material: 'wood' } },
      '/evaluation/material',
      /not known/,
    ],
    ['an end before its start', { startAt: later, finishBy: later }, '/finishBy', /allowed: after startAt/],
  ])('is refused with %s', async (_, more, pointer, detail) => {
    const before = await site.rows();
    const { status, body } = await post(more);
    expect(status).toBe(422);
    expect(body.errors.find((each: { pointer: string }) => each.pointer === pointer)?.detail, JSON.stringify(body.errors)).toMatch(detail);
    expect(await site.rows()).toEqual(before);
  });

  test('of more points than are allowed is refused with their number', async () => {
    const vary = ['layers.0.strutDiameterMm', 'links.strutDiameterMm'].map((each) => ({ path: each, from: 2, to: 4, steps: 400 }));
    const { body } = await post({ vary, sampling: { kind: 'grid' } });
    expect(body.errors[0]).toMatchObject({
      pointer: '/vary',
      detail: expect.stringContaining('make 160000 points; allowed: at most 100000'),
    });
  });

  test("is not another team's", async () => {
    const { headers } = await post({ startAt: later, finishBy: null });
    const stranger = await site.person();
    for (const method of ['GET', 'DELETE'] as const) expect((await site.call(stranger, method, headers.location!)).status).toBe(404);
    expect((await site.call(stranger, 'GET', '/v1/batches')).body.items).toEqual([]);
  });
});
