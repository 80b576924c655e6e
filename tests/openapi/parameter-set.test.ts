import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type FieldError, idealEdge, MAX_T, type ParameterSet, parameterSet, triangulationNumber, validate } from '../../openapi/index.ts';
import { ball } from './bodies.ts';

const errorsOf = (set: unknown): FieldError[] => {
  const checked = validate(parameterSet, set);
  return checked.ok ? [] : checked.errors;
};
const at = (errors: FieldError[], pointer: string) => errors.find((each) => each.pointer === pointer);
/** The limit a refusal tells: "allowed: at least 3.9 mm", "allowed: less than 10.4 mm". */
const toldLimit = (error: FieldError) => Number(/allowed: (?:at least|less than) ([\d.e-]+) mm/.exec(error.detail)?.[1]);

const diameter = fc.double({ min: 0.5, max: 6, noNaN: true });
/** A ball of two layers whose other parameters are wide of every limit. */
const twoLayers = (d0: number, d1: number, depthMm: number): ParameterSet => ({
  ...ball(),
  tiling: { ...ball().tiling, m: 2, n: 0 },
  layers: [
    { depthMm: 0, strutDiameterMm: d0 },
    { depthMm, strutDiameterMm: d1 },
  ],
  links: { pattern: 'posts', strutDiameterMm: 1 },
});

describe('triangulation number', () => {
  it('accepts GP(m,n) exactly when 1 <= m^2 + mn + n^2 <= 400', () => {
    for (let m = 0; m <= 20; m++) {
      for (let n = 0; n <= 20; n++) {
        const thin = { ...ball(), layers: [{ depthMm: 0, strutDiameterMm: 0.5 }], links: { pattern: 'none' } };
        const errors = errorsOf({ ...thin, tiling: { ...thin.tiling, m, n } });
        const T = (m + n) ** 2 - m * n;
        expect(errors.map((each) => each.pointer)).toEqual(T >= 1 && T <= 400 ? [] : ['/tiling']);
        if (errors[0]) expect(errors[0].detail).toContain(`is ${T}; allowed: 1 to ${MAX_T}`);
        expect(triangulationNumber(m, n)).toBe(T);
      }
    }
  });

  it('refuses T = 10 000 by the range of m and n', () => {
    const [error] = errorsOf({ ...ball(), tiling: { ...ball().tiling, m: 100, n: 0 } });
    expect(error).toMatchObject({ pointer: '/tiling/m', value: 100, detail: 'is 100; allowed: at least 0, at most 20' });
  });
});

describe('gap between layers', () => {
  it('is refused exactly when it is below half the sum of the diameters', () => {
    fc.assert(
      fc.property(diameter, diameter, fc.double({ min: 0.01, max: 20, noNaN: true }), (d0, d1, depth) => {
        const error = at(errorsOf(twoLayers(d0, d1, depth)), '/layers/1/depthMm');
        expect(error !== undefined).toBe(depth < (d0 + d1) / 2);
        if (error) expect(error.value).toBe(depth);
      }),
    );
  });

  it('tells a least depth that is accepted, within a part in 10 000 of the limit', () => {
    fc.assert(
      fc.property(diameter, diameter, fc.double({ min: 0.01, max: 0.99, noNaN: true }), (d0, d1, share) => {
        const least = (d0 + d1) / 2;
        const told = toldLimit(at(errorsOf(twoLayers(d0, d1, share * least)), '/layers/1/depthMm')!);
        expect(at(errorsOf(twoLayers(d0, d1, told)), '/layers/1/depthMm')).toBeUndefined();
        // six digits are told, the last rounded up: at most a unit of the sixth
        expect(told / least - 1).toBeLessThan(1e-4);
      }),
    );
  });
});

describe('thickness of struts', () => {
  it('has the edge of a regular hexagon of the area of one cell as its limit', () => {
    for (const T of [1, 3, 27, 400]) {
      const area = ((3 * Math.sqrt(3)) / 2) * idealEdge(T) ** 2;
      // two formulas in double precision
      expect(area * (10 * T + 2)).toBeCloseTo(4 * Math.PI, 12);
    }
  });

  it('is refused from the ideal edge at the node radius of its layer on, and told so', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 9 }), fc.double({ min: 0.5, max: 1.5, noNaN: true }), fc.boolean(), (m, share, inner) => {
        const base = twoLayers(1, 1, 20);
        base.tiling.m = m;
        // The diameter of layer 0 takes part in its node radius, r = D/2 - d/2, so its limit solves d = edge (D - d)/2.
        const edge = idealEdge(m * m);
        const D = base.carrier.outsideDiameterMm;
        const limit = inner ? edge * (D / 2 - 0.5 - 20) : (edge * D) / (2 + edge);
        const k = inner ? 1 : 0;
        base.layers[k].strutDiameterMm = share * limit;
        const error = at(errorsOf(base), `/layers/${k}/strutDiameterMm`);
        expect(error !== undefined).toBe(share >= 1);
        if (error && inner) expect(toldLimit(error) / limit).toBeCloseTo(1, 4);
      }),
    );
  });

  it('is refused for links from the smallest cell edge on', () => {
    const base = twoLayers(1, 1, 20);
    base.links.strutDiameterMm = 30;
    const error = at(errorsOf(base), '/links/strutDiameterMm')!;
    const told = toldLimit(error);
    base.links.strutDiameterMm = told * 0.9;
    expect(at(errorsOf(base), '/links/strutDiameterMm')).toBeUndefined();
  });
});

describe('depth', () => {
  it('is refused at and beyond the centre', () => {
    const radius = ball().carrier.outsideDiameterMm / 2 - 0.5;
    for (const depth of [radius, radius + 1, 500]) {
      const error = at(errorsOf(twoLayers(1, 1, depth)), '/layers/1/depthMm')!;
      expect(error.detail).toMatch(/reaches the centre; allowed: less than 80\.65 mm/);
    }
  });

  it('is 0 for the first layer', () => {
    const set = ball();
    set.layers[0].depthMm = 1;
    expect(at(errorsOf(set), '/layers/0/depthMm')).toMatchObject({ value: 1, detail: expect.stringContaining('allowed: 0') });
  });
});

describe('links', () => {
  const [outer, inner] = ball().layers;
  it.each([
    ['one layer with posts', [outer], { pattern: 'posts', strutDiameterMm: 3 }, '/links/pattern'],
    ['two layers without links', [outer, inner], { pattern: 'none' }, '/links/pattern'],
    ['two layers, links left out', [outer, inner], undefined, '/links/pattern'],
    ['posts without a diameter', [outer, inner], { pattern: 'posts' }, '/links/strutDiameterMm'],
  ])('%s is refused', (_, layers, links, pointer) => {
    const errors = errorsOf({ ...ball(), layers, links });
    expect(errors.map((each) => each.pointer)).toEqual([pointer]);
    expect(errors[0].detail).toMatch(/allowed|required/);
  });

  it('may be left out with one layer', () => {
    expect(errorsOf({ ...ball(), layers: [outer], links: undefined })).toEqual([]);
  });
});
