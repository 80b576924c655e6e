import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parameterSet, validate } from '../../../openapi/index.ts';
import { buildLattice, idealEdge, type ParameterSet } from '../../../worker/engine/lattice/index.ts';
import { goldberg } from '../../../worker/engine/tiling/index.ts';

const TILINGS = new Map([goldberg(1, 0), goldberg(1, 1), goldberg(2, 0), goldberg(2, 1)].map((tiling) => [tiling.T, tiling]));
const NETS = [
  { m: 1, n: 0 },
  { m: 1, n: 1 },
  { m: 2, n: 0 },
  { m: 2, n: 1 },
];

/** Lengths as a share of the ball, all within the ranges of their fields: the limits between fields are met, missed and now and then hit. */
const share = fc.oneof(
  { weight: 12, arbitrary: fc.double({ min: 0.01, max: 0.12, noNaN: true }) },
  { weight: 3, arbitrary: fc.double({ min: 0.1, max: 0.7, noNaN: true }) },
  { weight: 1, arbitrary: fc.constant(0.05) },
);
const factor = fc.double({ min: 0.4, max: 1.5, noNaN: true });
const shaping = fc.oneof(
  { weight: 4, arbitrary: fc.constant({}) },
  { weight: 1, arbitrary: factor.map((taper) => ({ taper })) },
  {
    weight: 1,
    arbitrary: fc.tuple(factor, factor, fc.constantFrom('x', 'y', 'z')).map(([fromFactor, toFactor, axis]) => ({
      gradient: { axis, fromFactor, toFactor },
    })),
  },
);
const set = fc
  .record({
    net: fc.constantFrom(...NETS),
    outside: fc.double({ min: 20, max: 140, noNaN: true }),
    layers: fc.array(fc.record({ step: share, thickness: share, shape: shaping }), { minLength: 1, maxLength: 4 }),
    firstDepth: fc.oneof({ weight: 9, arbitrary: fc.constant(0) }, { weight: 1, arbitrary: fc.constant(1) }),
    linked: fc.oneof(
      { weight: 9, arbitrary: fc.constant('as needed') },
      { weight: 1, arbitrary: fc.constantFrom('posts', 'braced', 'none') },
    ),
    linkShape: shaping,
    link: fc.oneof({ weight: 9, arbitrary: share }, { weight: 1, arbitrary: fc.constant(undefined) }),
  })
  .map(({ net: { m, n }, outside, layers, firstDepth, linked, link, linkShape }) => {
    let depthMm = firstDepth;
    const pattern = linked === 'as needed' ? (layers.length > 1 ? 'posts' : 'none') : linked;
    return {
      carrier: { shape: 'sphere', outsideDiameterMm: outside },
      tiling: { kind: 'goldberg', m, n, relaxation: 'none', orientation: 'split-plane' },
      layers: layers.map(({ step, thickness, shape }, k) => {
        depthMm += k === 0 ? 0 : step * outside;
        return { depthMm, strutDiameterMm: thickness * outside, ...shape };
      }),
      links: { pattern, ...linkShape, ...(link === undefined ? {} : { strutDiameterMm: link * outside }) },
    } as ParameterSet;
  });

describe('the refusals of the engine', () => {
  it('are those of the contract: a set builds exactly when the schema takes it, and the parameter named is one the schema names', () => {
    const seen = { built: 0, refused: new Map<string, number>() };
    fc.assert(
      fc.property(set, (parameters) => {
        const { m, n } = parameters.tiling;
        const checked = validate(parameterSet, parameters);
        const built = buildLattice(parameters, TILINGS.get((m + n) ** 2 - m * n)!);
        expect('refused' in built).toBe(!checked.ok);
        if (checked.ok || !('refused' in built)) {
          seen.built++;
          return;
        }
        const pointer = `/${built.path.join('/')}`;
        expect(checked.errors.map((error) => error.pointer)).toContain(pointer);
        seen.refused.set(pointer, (seen.refused.get(pointer) ?? 0) + 1);
      }),
      { numRuns: 1200, seed: 20_270_131 },
    );
    // the sets must lie on both sides of every limit, or the law above says nothing
    expect(seen.built).toBeGreaterThan(120);
    for (const pointer of [
      '/links/pattern',
      '/links/strutDiameterMm',
      '/layers/0/depthMm',
      '/layers/1/depthMm',
      '/layers/1/strutDiameterMm',
    ])
      expect(seen.refused.get(pointer), pointer).toBeGreaterThan(8);
  });

  it('tell the value and the limit', () => {
    const tiling = goldberg(2, 0);
    const parameters = (depthMm: number, strutDiameterMm: number, link: number): ParameterSet => ({
      carrier: { shape: 'sphere', outsideDiameterMm: 100 },
      tiling: { kind: 'goldberg', m: 2, n: 0, relaxation: 'none', orientation: 'split-plane' },
      layers: [
        { depthMm: 0, strutDiameterMm: 4 },
        { depthMm, strutDiameterMm },
      ],
      links: { pattern: 'posts', strutDiameterMm: link },
    });
    expect(buildLattice(parameters(2.9, 2, 2), tiling)).toMatchObject({
      path: ['layers', 1, 'depthMm'],
      value: 2.9,
      message: /at least 3,/,
    });
    expect(buildLattice(parameters(48, 2, 2), tiling)).toMatchObject({
      path: ['layers', 1, 'depthMm'],
      value: 48,
      message: /less than 48,/,
    });
    // the inner layer lies at 28 mm: its ideal edge is 28 times that on the unit sphere
    const edge = 28 * idealEdge(4);
    expect(buildLattice(parameters(20, edge, 2), tiling)).toMatchObject({ path: ['layers', 1, 'strutDiameterMm'], value: edge });
    expect(buildLattice(parameters(20, edge * (1 - 1e-12), 2), tiling)).not.toHaveProperty('refused');
    // a link thicker than layer 0 pushes the nodes in: it is as thick as the inner edge where L = e (30 - L / 2)
    const unit = idealEdge(4);
    const link = (30 * unit) / (1 + unit / 2);
    expect(buildLattice(parameters(20, 2, link * (1 + 1e-12)), tiling)).toMatchObject({ path: ['links', 'strutDiameterMm'] });
    expect(buildLattice(parameters(20, 2, link * (1 - 1e-12)), tiling)).not.toHaveProperty('refused');
  });

  it('count a tapered or graded diameter with the largest it takes anywhere', () => {
    const layer = { depthMm: 0, strutDiameterMm: 4 };
    const inner = { depthMm: 5, strutDiameterMm: 4 };
    const of = (first: object, second: object): ParameterSet => ({
      ...setOf(2),
      layers: [
        { ...layer, ...first },
        { ...inner, ...second },
      ],
    });
    const gradient = { axis: 'x', fromFactor: 0.2, toFactor: 1.6 } as const;
    const tiling = goldberg(1, 0);
    // (4 + 4) / 2 leaves a gap of 1 mm; 1.6 times either of them does not
    expect(buildLattice(of({}, {}), tiling)).not.toHaveProperty('refused');
    for (const shaped of [{ taper: 1.6 }, { gradient }]) {
      expect(buildLattice(of(shaped, {}), tiling)).toMatchObject({ path: ['layers', 1, 'depthMm'], value: 5, message: /at least 5\.2,/ });
      expect(buildLattice(of({}, shaped), tiling)).toMatchObject({ path: ['layers', 1, 'depthMm'], value: 5, message: /at least 5\.2,/ });
    }
    expect(buildLattice(of({ taper: 0.5 }, { taper: 0.5 }), tiling)).not.toHaveProperty('refused');
  });

  it('name a missing or a wrong number of layers', () => {
    const parameters = { ...setOf(0), layers: [] };
    expect(buildLattice(parameters, goldberg(1, 0))).toMatchObject({ refused: true, path: ['layers'], value: 0 });
    expect(buildLattice(setOf(5), goldberg(1, 0))).toMatchObject({ refused: true, path: ['layers'], value: 5 });
  });
});

function setOf(layers: number): ParameterSet {
  return {
    carrier: { shape: 'sphere', outsideDiameterMm: 100 },
    tiling: { kind: 'goldberg', m: 1, n: 0, relaxation: 'none', orientation: 'split-plane' },
    layers: Array.from({ length: layers }, (_, k) => ({ depthMm: 5 * k, strutDiameterMm: 1 })),
    links: layers > 1 ? { pattern: 'posts', strutDiameterMm: 1 } : { pattern: 'none' },
  };
}
