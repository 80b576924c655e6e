import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exampleRequest } from '../../openapi/examples.ts';
import { pathsOf, withValue } from '../openapi/bodies.ts';
import type { Answer } from './ask.ts';
import { openSite, type Person, type Site } from './site.ts';

let site: Site;
let referee: Person;
beforeAll(async () => {
  site = await openSite();
  referee = await site.person();
});
afterAll(() => site.close());

const set = (path: (string | number)[], value: unknown) => withValue(exampleRequest, ['parameterSet', ...path], value);
const pointed = (path: (string | number)[]) => `/parameterSet/${path.join('/')}`;

/** Posts what must be refused: within a second, as a problem document, and with every table left as it was. */
async function refused(body: unknown, url = '/v1/evaluations'): Promise<Answer> {
  const before = await site.rows();
  const began = performance.now();
  const answer = await site.call(referee, 'POST', url, { body });
  expect(performance.now() - began).toBeLessThan(1000);
  expect(answer.status).toBeGreaterThanOrEqual(400);
  expect(answer.status).toBeLessThan(500);
  expect(await site.rows()).toEqual(before);
  return answer;
}

describe('a bad evaluation is refused with field, value and range', () => {
  test('the body these are made from is good', async () => {
    expect((await site.call(referee, 'POST', '/v1/evaluations', { body: exampleRequest })).status).toBe(202);
  });

  test.each<[string, (string | number)[], unknown, string]>([
    ['a diameter too large', ['carrier', 'outsideDiameterMm'], 1000.1, 'at most 1000'],
    ['a diameter too small', ['carrier', 'outsideDiameterMm'], 4.9, 'at least 5'],
    ['a strut of no thickness', ['layers', 0, 'strutDiameterMm'], 0, 'at least 0.05, at most 100'],
    ['a strut too thin for any powder', ['layers', 0, 'strutDiameterMm'], 0.049, 'at least 0.05'],
    ['a strut of negative thickness', ['links', 'strutDiameterMm'], -3.6, 'at least 0.05'],
    ['a fraction where a whole number belongs', ['tiling', 'm'], 2.5, 'a whole number'],
    ['m out of range', ['tiling', 'm'], 21, 'at most 20'],
    ['a negative n', ['tiling', 'n'], -1, 'at least 0'],
    ['a negative depth', ['layers', 1, 'depthMm'], -14, 'at least 0'],
    ['text where a number belongs', ['layers', 0, 'strutDiameterMm'], '4.2', 'at least 0.05'],
    ['text NaN', ['layers', 0, 'strutDiameterMm'], 'NaN', 'at least 0.05'],
    ['null where a number belongs', ['carrier', 'outsideDiameterMm'], null, 'at least 5'],
    ['a shape that is not built', ['carrier', 'shape'], 'cube', '"sphere"'],
    ['a pattern that is not built', ['links', 'pattern'], 'welded', '"posts"'],
    ['no list of layers', ['layers'], {}, '1 to 4 items'],
    ['no layers', ['layers'], [], '1 to 4 items'],
    ['struts thicker than the cell', ['layers', 0, 'strutDiameterMm'], 40, 'less than'],
    ['links thicker than the cell', ['links', 'strutDiameterMm'], 40, 'less than'],
    ['layers that touch', ['layers', 1, 'depthMm'], 3, 'at least'],
    ['a depth beyond the centre', ['layers', 1, 'depthMm'], 100, 'less than'],
    ['a first layer that is not the reference', ['layers', 0, 'depthMm'], 2, 'allowed: 0'],
  ])('%s', async (_, path, value, range) => {
    const { status, body } = await refused(set(path, value));
    expect(status).toBe(422);
    const error = body.errors.find((each: { pointer: string }) => each.pointer === pointed(path));
    expect(error, JSON.stringify(body.errors)).toBeDefined();
    expect(error.value).toEqual(value);
    expect(error.detail).toContain(range);
  });

  test('T = 10 000', async () => {
    const { body } = await refused(set(['tiling'], { ...exampleRequest.parameterSet.tiling, m: 100, n: 0 }));
    expect(body.errors).toContainEqual(
      expect.objectContaining({ pointer: pointed(['tiling', 'm']), value: 100, detail: expect.stringContaining('at most 20') }),
    );
    const large = await refused(set(['tiling'], { ...exampleRequest.parameterSet.tiling, m: 20, n: 20 }));
    expect(large.body.errors).toMatchObject([{ pointer: pointed(['tiling']), detail: expect.stringMatching(/T = .*1200.*1 to 400/) }]);
    const none = await refused(set(['tiling'], { ...exampleRequest.parameterSet.tiling, m: 0, n: 0 }));
    expect(none.body.errors).toMatchObject([{ pointer: pointed(['tiling']) }]);
  });

  test.each(['NaN', 'Infinity', '-Infinity', '1e999', '-1e999'])('%s where a number belongs', async (word) => {
    const text = JSON.stringify(exampleRequest).replace('162.3', word);
    expect(text).toContain(word);
    const { status, body } = await refused(text);
    const value = String(word.includes('1e') ? Number(word) : word);
    expect(status).toBe(422);
    expect(body.errors).toMatchObject([
      { pointer: pointed(['carrier', 'outsideDiameterMm']), value, detail: expect.stringContaining('at least 5, at most 1000') },
    ]);
  });

  test('an unknown key, at every level', async () => {
    for (const path of pathsOf(exampleRequest)) {
      const target = path.reduce<unknown>((here, key) => (here as Record<string, unknown>)[key], exampleRequest);
      if (typeof target !== 'object' || target === null || Array.isArray(target)) continue;
      const { body } = await refused(withValue(exampleRequest, path, { ...target, colour: 'blue' }));
      expect(body.errors).toContainEqual(
        expect.objectContaining({
          pointer: `/${[...path, 'colour'].join('/')}`,
          value: 'blue',
          detail: expect.stringContaining('allowed: '),
        }),
      );
    }
  });

  test('an unknown material, build volume or reference, listing those that are known', async () => {
    for (const kind of ['material', 'buildVolume', 'reference']) {
      const { status, body } = await refused({ ...exampleRequest, [kind]: 'unheard-of' });
      expect(status).toBe(422);
      expect(body.errors).toMatchObject([{ pointer: `/${kind}`, value: 'unheard-of', detail: expect.stringContaining('allowed: ') }]);
    }
  });

  test('an empty body, and bodies of another kind', async () => {
    for (const body of ['', '[]', 'null', '7', '"ball"', 'true']) {
      const whole = { pointer: '', detail: expect.stringContaining('an object with parameterSet') };
      expect(await refused(body), body).toMatchObject({ status: 422, body: { errors: [whole] } });
    }
    expect((await refused('{}')).body.errors).toMatchObject([{ pointer: '/material' }, { pointer: '/buildVolume' }]);
  });

  test('neither a parameter set nor a version, or both', async () => {
    const { parameterSet, ...rest } = exampleRequest;
    const both = { ...rest, parameterSet, versionId: '019aab00-0000-7000-8000-000000000001' };
    for (const body of [rest, both]) expect((await refused(body)).body.detail).toMatch(/parameterSet.*versionId|versionId.*parameterSet/);
    const { body } = await refused({ ...rest, versionId: '019aab00-0000-7000-8000-000000000001' });
    expect(body.errors).toMatchObject([{ pointer: '/versionId' }]);
  });

  test('NUL, half surrogates and prototype keys, wherever text may stand', async () => {
    for (const text of ['\\u0000', '\\ud800', 'a\\udfff']) {
      expect((await refused(`{"name": "${text}"}`, '/v1/designs')).body.errors).toMatchObject([{ pointer: '/name' }]);
      expect((await refused(`{"name": "ball", "notes": "${text}"}`, '/v1/designs')).body.errors).toMatchObject([{ pointer: '/notes' }]);
    }
    for (const key of ['__proto__', 'constructor', 'prototype']) {
      expect((await refused(`{"name": "ball", "${key}": {"x": 1}}`, '/v1/designs')).body.errors).toMatchObject([{ pointer: `/${key}` }]);
    }
  });

  test('10 MB, and a million brackets', async () => {
    expect((await refused(JSON.stringify({ name: 'ball', notes: 'x'.repeat(10_000_000) }), '/v1/designs')).body.code).toBe(
      'body-too-large',
    );
    expect((await refused(`${'['.repeat(500_000)}${']'.repeat(500_000)}`, '/v1/designs')).body.code).toBe('invalid-body');
  });

  test('many faults at once are told at once', async () => {
    const { body } = await refused({ parameterSet: {}, material: 7, buildVolume: [], tests: { depth: 'abyss' }, more: 1 });
    const pointers = body.errors.map((each: { pointer: string }) => each.pointer);
    for (const pointer of [
      '/parameterSet/carrier',
      '/parameterSet/tiling',
      '/parameterSet/layers',
      '/material',
      '/buildVolume',
      '/tests/depth',
      '/more',
    ]) {
      expect(pointers).toContain(pointer);
    }
  });
});

test('a lattice that is legal but cannot be made is taken: its checks say why', async () => {
  const thin = set(
    ['layers'],
    [
      { depthMm: 0, strutDiameterMm: 0.2 },
      { depthMm: 14, strutDiameterMm: 0.2 },
    ],
  );
  expect((await site.call(referee, 'POST', '/v1/evaluations', { body: thin })).status).toBe(202);
});
