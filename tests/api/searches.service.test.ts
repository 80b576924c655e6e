import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exampleSearchRequest } from '../../openapi/index.ts';
import { openSite, type Person, type Site } from './site.ts';
import { printedDesign } from './test-house.ts';

let site: Site;
let coach: Person;
beforeAll(async () => {
  site = await openSite();
  coach = await site.person();
});
afterAll(() => site.close());

const post = (more: object = {}) => site.call(coach, 'POST', '/v1/searches', { body: { ...exampleSearchRequest, ...more } });

describe('a search', () => {
  test('is accepted, read, listed and cancelled', async () => {
    const { status, headers, body } = await post();
    expect(status).toBe(202);
    expect(body).toMatchObject({
      status: 'queued',
      progress: { evaluations: 0, running: 0, failed: 0, budget: 40, bestMissPct: null },
      ...{ best: null, ranking: [], sensitivities: [], endedBy: null, verdict: 'Nothing is evaluated yet.' },
      ...{ free: exampleSearchRequest.free, rank: 'least-first', until: 'targets-met' },
    });
    const url = headers.location!;
    expect((await site.call(coach, 'GET', url)).body).toEqual(body);
    expect((await site.call(coach, 'GET', '/v1/searches')).body.items).toEqual([body]);
    expect((await site.call(coach, 'GET', '/v1/batches')).body.items).toEqual([]);
    expect((await site.call(coach, 'DELETE', url)).body).toMatchObject({ status: 'cancelled' });
    expect((await site.call(coach, 'DELETE', url)).status).toBe(200);
  });

  test('tells the version that it was posted from', async () => {
    const { designId, versions } = await printedDesign(site, coach, 2);
    const { parameterSet: _, ...rest } = exampleSearchRequest;
    const { body } = await site.call(coach, 'POST', '/v1/searches', { body: { ...rest, versionId: versions[1] } });
    expect(body.origin).toEqual({ designId, versionId: versions[1], version: 2 });
    expect((await post()).body.origin).toBeNull();
  });

  test('without tests goes as deep as what is wanted needs', async () => {
    const depth = async (...quantities: string[]) => {
      const reference = { targets: quantities.map((quantity) => ({ quantity, min: 1 })) };
      return (await post({ reference, tests: undefined })).body.tests.depth;
    };
    expect(await depth('massG', 'geometry.strutLengthMm.mean')).toBe('geometry');
    expect(await depth('massG', 'stiffnessNPerMm')).toBe('static');
    expect(await depth('restitution')).toBe('full');
  });

  test('shows records among its choices by their keys', async () => {
    const free = [{ path: 'material', choices: ['tpu-soft', 'tpu-firm'] }];
    expect((await post({ free })).body.free).toEqual(free);
  });

  const free = (more: object) => ({ free: [{ path: 'links.strutDiameterMm', min: 2, max: 5, ...more }] });
  const wants = (quantity: string) => ({ reference: { targets: [{ quantity, min: 1 }] } });
  test.each([
    ['a path that leads nowhere', free({ path: 'layers.0.thickness' }), '/free/0/path', /is "layers.0.thickness", which is not known/],
    ['a place past the end of a list', free({ path: 'layers.2.depthMm' }), '/free/0/path', /there are 2 layers; allowed: places 0 to 1/],
    ['numbers where none stands', free({ path: 'material' }), '/free/0/path', /which is no number; allowed: choices/],
    ['bounds upside down', free({ min: 5, max: 5 }), '/free/0/min', /is 5; allowed: less than max, which is 5/],
    ['a start out of bounds', free({ start: 6 }), '/free/0/start', /is 6; allowed: at least 2, at most 5/],
    ['a step larger than the range', free({ step: 4 }), '/free/0/step', /is 4; allowed: at most 3/],
    ['both forms', free({ choices: [1] }), '/free/0', /takes both forms/],
    ['neither form', { free: [{ path: 'links.strutDiameterMm' }] }, '/free/0', /takes no form; required: min and max, or choices/],
    ['a path twice', { free: [...free({}).free, ...free({}).free] }, '/free/1/path', /is free twice/],
    ['an end that there is not', { until: 'tomorrow' }, '/until', /is "tomorrow"; allowed: "targets-met", "objective-settled"/],
    ['a budget of nothing', { budget: { evaluations: 0 } }, '/budget/evaluations', /is 0; allowed: at least 1, at most 500/],
    ['more ways than evaluations', { budget: { evaluations: 1 } }, '/free', /makes 2 combinations of choices; allowed: at most 1/],
    [
      'a target its depth does not give',
      wants('reboundHeightMm'),
      '/reference/targets/0/quantity',
      /which depth static does not give; .* tests.depth full/,
    ],
    [
      'a target no result has',
      wants('mood.mean'),
      '/reference/targets/0/quantity',
      /is "mood.mean", which no result has; allowed: a short name/,
    ],
    [
      'a target nobody asks for',
      wants('motion.roll.driftMm'),
      '/reference/targets/0/quantity',
      /which the tests do not ask for; required: tests.motion/,
    ],
    ['an objective its depth does not give', { objective: 'life.cyclesToFailure' }, '/objective', /which depth static does not give/],
    [
      'a limit nobody knows',
      { constraints: { limits: [{ quantity: 'charm', max: 1 }] } },
      '/constraints/limits/0/quantity',
      /not a known quantity/,
    ],
    [
      'a material nobody has',
      { free: [{ path: 'material', choices: ['wood'] }] },
      '/free/0/choices/0',
      /is "wood", which is not known; allowed: /,
    ],
    ['a base that is refused', { buildVolume: 'barn' }, '/buildVolume', /is "barn", which is not known/],
    ['no base', { parameterSet: undefined }, '/parameterSet', /required: this or versionId/],
    ['no reference', { reference: undefined }, '/reference', /./],
  ])('is refused with %s', async (_, more, pointer, detail) => {
    const before = await site.rows();
    const { status, body } = await post(more);
    expect(status).toBe(422);
    expect(body.errors.find((each: { pointer: string }) => each.pointer === pointer)?.detail, JSON.stringify(body.errors)).toMatch(detail);
    expect(await site.rows()).toEqual(before);
  });

  test("is not another team's", async () => {
    const { headers } = await post();
    const stranger = await site.person();
    for (const method of ['GET', 'DELETE'] as const) expect((await site.call(stranger, method, headers.location!)).status).toBe(404);
    expect((await site.call(stranger, 'GET', '/v1/searches')).body.items).toEqual([]);
  });
});
