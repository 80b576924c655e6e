import { describe, expect, it } from 'vitest';
import { catalogueLookup, evaluationInput, type Lookup, MATERIALS, resolvedInput, resolveInput, validate } from '../../openapi/index.ts';
import { request } from './bodies.ts';

const inputOf = (change: object = {}) => evaluationInput.parse({ ...request(), ...change });
const { builtIn: _, ...tpu } = MATERIALS[0];

describe('resolving an input', () => {
  it('replaces each key by the record it names, with its revision, and gives what the engine may be handed', async () => {
    const resolved = await resolveInput(inputOf(), catalogueLookup);
    if (!resolved.ok) throw new Error(JSON.stringify(resolved.errors));
    expect(resolvedInput.parse(resolved.value)).toEqual(resolved.value);
    expect(resolved.value).toMatchObject({
      material: { key: 'tpu-soft', revision: 1 },
      buildVolume: { key: 'medium-polymer', revision: 1 },
      reference: { key: 'handball-size-1', revision: 1 },
    });
  });

  it('leaves a whole record as it was posted, and no reference as none', async () => {
    const resolved = await resolveInput(inputOf({ material: tpu, reference: undefined }), catalogueLookup);
    expect(resolved).toMatchObject({ ok: true, value: { material: tpu, reference: null } });
  });

  it('is the same whether a record is named or posted', async () => {
    expect(await resolveInput(inputOf({ material: tpu }), catalogueLookup)).toEqual(await resolveInput(inputOf(), catalogueLookup));
  });

  it('names every unknown key and lists the known ones', async () => {
    const resolved = await resolveInput(inputOf({ material: 'steel', reference: 'moon' }), catalogueLookup);
    expect(resolved).toEqual({
      ok: false,
      errors: [
        { pointer: '/material', value: 'steel', detail: 'is "steel", which is not known; allowed: tpu-soft, tpu-firm, peba, pa12' },
        { pointer: '/reference', value: 'moon', detail: expect.stringMatching(/allowed: handball-size-0, .*tennis$/) },
      ],
    });
  });

  it('asks a lookup that answers later', async () => {
    const look: Lookup = { ...catalogueLookup, material: async (key) => ({ ...MATERIALS[0], key, revision: 7, builtIn: false }) };
    expect(await resolveInput(inputOf({ material: 'own' }), look)).toMatchObject({
      ok: true,
      value: { material: { key: 'own', revision: 7 } },
    });
  });

  it('refuses powder and machine priced in two currencies', async () => {
    const resolved = await resolveInput(inputOf({ material: { ...tpu, pricePerKg: { amount: 90, currency: 'USD' } } }), catalogueLookup);
    expect(resolved).toMatchObject({ ok: false, errors: [{ pointer: '/buildVolume/hourlyRate/currency', value: 'EUR' }] });
  });

  const byTemperature = [
    { temperatureC: 0, modulusMPa: 110, lossFactor: 0.2 },
    { temperatureC: 30, modulusMPa: 50 },
  ];
  it.each([
    ['the table', { byTemperature }, 0, null],
    ['the table', { byTemperature }, 30, null],
    ['the table', { byTemperature }, 31, /is 31; allowed: at least 0, at most 30, the range of the material's table/],
    ['one temperature', { temperatureC: 23 }, 23, null],
    ['one temperature', { temperatureC: 23 }, 20, /is 20; allowed: leave it out, or 23, .*no table by temperature/],
    ['no temperature', {}, 20, /is 20; allowed: leave it out; the material has no table/],
  ])('takes a temperature that %s of the material tells of, and refuses any other: %j at %d', async (_, more, temperatureC, refused) => {
    const input = inputOf({ material: { ...tpu, ...more }, tests: { depth: 'static', temperatureC } });
    const resolved = await resolveInput(input, catalogueLookup);
    expect(resolved.ok).toBe(refused === null);
    if (!resolved.ok)
      expect(resolved.errors).toEqual([{ pointer: '/tests/temperatureC', value: temperatureC, detail: expect.stringMatching(refused!) }]);
  });
});

describe('what making is asked for', () => {
  const built = async (build: object | undefined, version?: number) => {
    const resolved = await resolveInput(inputOf({ build }), catalogueLookup, version);
    return resolved.ok ? resolved.value.build : resolved.errors;
  };

  it('is not there where nothing is asked for, so that the input stays the same input', async () => {
    for (const build of [undefined, {}, { compareOrientations: false }]) expect(await built(build)).toBeUndefined();
    expect(await built({ mark: 3, compareOrientations: true })).toEqual({ mark: 3, compareOrientations: true });
  });

  it("has the version's number for a mark of the version, and is refused where there is none", async () => {
    expect(await built({ mark: 'version' }, 7)).toEqual({ mark: 7 });
    expect(await built({ mark: 'version' })).toEqual([
      { pointer: '/build/mark', value: 'version', detail: expect.stringMatching(/whole number/) },
    ]);
  });
});

describe('targets', () => {
  const errorsOf = (target: object) => {
    const checked = validate(evaluationInput, { ...request(), reference: { targets: [target] } });
    return checked.ok ? [] : checked.errors.map(({ pointer }) => pointer);
  };
  it.each([
    [{ quantity: 'massG', min: 1 }, []],
    [{ quantity: 'geometry.nodeCount', max: 1000 }, []],
    [{ quantity: 'massGrams', min: 1 }, ['/reference/targets/0/quantity']],
    [{ quantity: 'a..b', min: 1 }, ['/reference/targets/0/quantity']],
    [{ quantity: 'massG' }, ['/reference/targets/0']],
    [{ quantity: 'massG', min: 2, max: 1 }, ['/reference/targets/0/min']],
    [{ quantity: 'massG', min: 1, target: 3, max: 2 }, ['/reference/targets/0/target']],
    [{ quantity: 'massG', min: 0, max: 1e-9 }, []],
    [{ quantity: 'massG', min: 1e-10 }, ['/reference/targets/0/min']],
    [{ quantity: 'massG', max: 1.1e12 }, ['/reference/targets/0/max']],
  ])('%j is refused at %j', (target, pointers) => {
    expect(errorsOf(target)).toEqual(pointers);
  });
});
