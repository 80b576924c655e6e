import { describe, expect, it } from 'vitest';
import { ENGINE_VERSION, result as resultSchema, STAGES } from '../../openapi/index.ts';
import { type EngineInput, type EngineResult, evaluate } from '../../worker/engine/index.ts';
import { inputOf, SMALL_BALL, TRAINING_BALL } from './inputs.ts';

const small = await inputOf();
/** Without mechanics. */
const SHAPE_STAGES = STAGES.filter(
  (stage) => !['compression', 'vibration', 'drop', 'throw', 'life', 'motion', 'variation'].includes(stage),
);
const resultOf = (input: EngineInput): EngineResult => {
  const outcome = evaluate(input);
  if (outcome.kind !== 'done') throw new Error(JSON.stringify(outcome));
  return outcome.result;
};
const withEngine = (result: EngineResult) => ({ engine: { version: ENGINE_VERSION, inputHash: 'sha256:0' }, ...result });
const codes = ({ warnings }: EngineResult) => warnings.map(({ code }) => code);

describe('an evaluation', () => {
  it("passes the contract's stages in their order, the share of work done rising from 0 and staying below 1", () => {
    const seen: [string, number][] = [];
    evaluate(small, { onStage: (stage, done) => seen.push([stage, done]) });
    expect(seen.map(([stage]) => stage)).toEqual(SHAPE_STAGES);
    expect(seen[0][1]).toBe(0);
    for (let k = 1; k < seen.length; k++) expect(seen[k][1]).toBeGreaterThan(seen[k - 1][1]);
    expect(seen[seen.length - 1][1]).toBeLessThan(1);
  });

  it.each(SHAPE_STAGES)('is cancelled in stage %s and enters none after it', (last) => {
    const seen: string[] = [];
    const outcome = evaluate(small, { onStage: (stage) => seen.push(stage), isCancelled: () => seen.includes(last) });
    // nothing is polled after the last stage has begun: it is done
    if (last === STAGES.at(-1)) expect(outcome.kind).toBe('done');
    else expect(outcome).toEqual({ kind: 'cancelled' });
    expect(seen).toEqual(SHAPE_STAGES.slice(0, SHAPE_STAGES.indexOf(last) + 1));
  });

  it('cancelled before it begins enters no stage', () => {
    const seen: string[] = [];
    expect(evaluate(small, { onStage: (stage) => seen.push(stage), isCancelled: () => true })).toEqual({ kind: 'cancelled' });
    expect(seen).toEqual([]);
  });

  it('cancelled amid the slices of a large ball stops within a few struts', async () => {
    const input = await inputOf({ parameterSet: TRAINING_BALL });
    let polls = 0;
    let slicing = false;
    const outcome = evaluate(input, {
      onStage: (stage) => {
        slicing = stage === 'slices';
      },
      isCancelled: () => slicing && ++polls > 3,
    });
    expect(outcome.kind).toBe('cancelled');
    // slicing by orbits under the six rotations that keep the vertical looks at some hundreds of struts: the third poll ended it
    expect(polls).toBeLessThan(20);
  });

  it('gives the same answer twice, to the last bit, and leaves its input alone', () => {
    const before = structuredClone(small);
    const [first, second] = [evaluate(small), evaluate(small)];
    expect(second).toEqual(first);
    expect(JSON.stringify(second)).toBe(JSON.stringify(first));
    expect(small).toEqual(before);
  });

  it.each([
    ['one layer', { ...SMALL_BALL, layers: [SMALL_BALL.layers[0]], links: { pattern: 'none' } }],
    ['two layers', SMALL_BALL],
    ['the training ball', TRAINING_BALL],
    [
      'a braced, tapered and graded ball',
      {
        ...SMALL_BALL,
        layers: [
          { ...SMALL_BALL.layers[0], taper: 0.7 },
          { ...SMALL_BALL.layers[1], gradient: { axis: 'x', fromFactor: 0.8, toFactor: 1.2 } },
        ],
        links: { ...SMALL_BALL.links, pattern: 'braced' },
      },
    ],
    ['a ball of a cell size', { ...SMALL_BALL, tiling: { kind: 'goldberg', cellSizeMm: 20, relaxation: 'equal-areas' } }],
  ])("of %s has exactly the contract's fields, no number of them missing", async (_, parameterSet) => {
    const result = withEngine(resultOf(await inputOf({ parameterSet, reference: 'handball-size-1' })));
    const parsed = resultSchema.parse(result);
    // strict objects refuse what the contract does not name; text as JSON has no NaN and no Infinity to hide
    expect(JSON.parse(JSON.stringify(result))).toEqual(parsed);
  });
});

describe('the figures of an evaluation', () => {
  const { geometry, massProperties, balance, printability, build, cost } = resultOf(small);
  const T = 3;

  it('count the lattice', () => {
    expect(geometry).toMatchObject({ triangulationNumber: T, nodeCount: 40 * T, strutCount: 80 * T, cellCount: 10 * T + 2 });
    expect([geometry.pentagonCount, geometry.hexagonCount]).toEqual([12, 10 * (T - 1)]);
    expect(geometry.cellOpeningMm.map(({ layer }) => layer)).toEqual([0, 1]);
    for (const { min, max } of geometry.cellOpeningMm) expect(max).toBeGreaterThanOrEqual(min);
  });

  it('have the outside diameter asked for, and a tape that lies on its flats', () => {
    expect(geometry.outsideDiameterMm).toBeCloseTo(70, 10);
    expect(geometry.circumferenceMm).toBeLessThan(Math.PI * 70);
    // 32 flats: the hull's mean width is some percent below the sphere's
    expect(geometry.circumferenceMm).toBeGreaterThan(0.93 * Math.PI * 70);
    expect(geometry.nodeRadiusMm).toEqual([33.5, 25.5]);
  });

  it('of a dodecahedron are those of the textbook: its tape measure, and the two struts that cross the plane between its halves', async () => {
    const parameterSet = {
      carrier: { shape: 'sphere', outsideDiameterMm: 84 },
      tiling: { kind: 'goldberg', m: 1, n: 0 },
      layers: [{ depthMm: 0, strutDiameterMm: 4 }],
    };
    const dodecahedron = resultOf(await inputOf({ parameterSet })).geometry;
    // 30 edges of 40 * 0.713644 mm, dihedral angle acos(-1 / sqrt 5) (Santalo 1976), and balls of 4 mm
    const edge = (4 * 40) / (Math.sqrt(3) * (1 + Math.sqrt(5)));
    const meanWidth = (30 * edge * (Math.PI - Math.acos(-1 / Math.sqrt(5)))) / (4 * Math.PI) + 4;
    expect(dodecahedron.circumferenceMm).toBeCloseTo(Math.PI * meanWidth, 6);
    expect(dodecahedron.strutLengthMm.mean).toBeCloseTo(edge, 9);
    expect(dodecahedron.strutsAcrossSplitPlane).toBe(2);
  });

  it('have the mass of the union, which is less than that of all cylinders', () => {
    const { massG, volumeMm3, sumOfCylindersMassG, relativeDensityPct, principalInertiaGMm2, inertiaGMm2 } = massProperties;
    expect(massG).toBeCloseTo((volumeMm3 * small.material.densityGCm3) / 1000, 9);
    expect(relativeDensityPct).toBeCloseTo((100 * volumeMm3) / ((Math.PI / 6) * 70 ** 3), 9);
    expect(massG).toBeLessThan(sumOfCylindersMassG);
    expect(massG).toBeGreaterThan(0.8 * sumOfCylindersMassG);
    expect(principalInertiaGMm2[0] + principalInertiaGMm2[1] + principalInertiaGMm2[2]).toBeCloseTo(
      inertiaGMm2[0][0] + inertiaGMm2[1][1] + inertiaGMm2[2][2],
      6,
    );
    // between a ball of that mass at the inner and one at the outer radius (thin shells)
    expect(principalInertiaGMm2[0]).toBeGreaterThan((2 / 3) * massG * 25.5 ** 2);
    expect(principalInertiaGMm2[2]).toBeLessThan((2 / 3) * massG * 35 ** 2);
  });

  it('sum the cylinders as plain arithmetic does', () => {
    const outcome = evaluate(small);
    if (outcome.kind !== 'done') throw new Error(outcome.kind);
    const { xyz, ends, diameters, strutCount } = outcome.graph;
    let volume = 0;
    for (let s = 0; s < strutCount; s++) {
      const [a, b] = [3 * ends[2 * s], 3 * ends[2 * s + 1]];
      volume += (Math.PI / 4) * diameters[2 * s] ** 2 * Math.hypot(xyz[a] - xyz[b], xyz[a + 1] - xyz[b + 1], xyz[a + 2] - xyz[b + 2]);
    }
    expect(massProperties.sumOfCylindersMassG).toBeCloseTo((volume * small.material.densityGCm3) / 1000, 9);
  });

  it('leave mechanics out, and hold a verdict, a build and a cost', () => {
    const result = resultOf(small);
    expect([result.material, result.stiffness, result.vibration, result.rebound, result.life]).toEqual([null, null, null, null, null]);
    expect(['pass', 'warn', 'fail']).toContain(printability.verdict);
    expect(build.fits).toBe(true);
    expect(cost?.totalPerPart.currency).toBe('EUR');
    expect(balance.halfMassDifferencePct).toBeGreaterThanOrEqual(0);
  });

  it('even the struts when they are told to', async () => {
    const equal = resultOf(await inputOf({ parameterSet: { ...SMALL_BALL, tiling: { ...SMALL_BALL.tiling, relaxation: 'equal-edges' } } }));
    expect(equal.geometry.edgeUniformityPct).toBeLessThan(1e-9);
    expect(equal.geometry.distinctStrutLengths).toBe(1);
    expect(geometry.edgeUniformityPct).toBeGreaterThan(1);
    expect(geometry.distinctStrutLengths).toBe(2);
    expect(codes(equal)).not.toContain('relaxation-incomplete');
  });
});

describe('the warnings of an evaluation', () => {
  it('always hold the cautions', () => {
    expect(codes(resultOf(small))).toEqual(['caution-impact', 'caution-children', 'caution-powder']);
  });

  it('tell what a relaxation had to leave', async () => {
    const relaxed = async (relaxation: string) =>
      resultOf(await inputOf({ parameterSet: { ...SMALL_BALL, tiling: { ...SMALL_BALL.tiling, relaxation } } }));
    // every seed of GP(1,1) lies on an axis of symmetry, so its areas cannot be evened; its edges can
    const { warnings } = await relaxed('equal-areas');
    expect(warnings[0]).toMatchObject({ code: 'relaxation-incomplete', message: expect.stringMatching(/cell areas .* up to 19\.5 %/) });
    expect(codes(await relaxed('equal-edges'))).not.toContain('relaxation-incomplete');
  });
});

describe('an evaluation that fails', () => {
  it('names the parameter it refuses, its value and what is allowed', () => {
    const layers = [SMALL_BALL.layers[0], { depthMm: 1, strutDiameterMm: 2.5 }];
    const outcome = evaluate({ ...small, parameterSet: { ...small.parameterSet, layers } });
    expect(outcome).toMatchObject({ kind: 'failed', error: { code: 'refused-parameters' } });
    expect(outcome.kind === 'failed' && outcome.error.message).toMatch(/\/parameterSet\/layers\/1\/depthMm is 1; allowed: at least 2\.75/);
  });

  it('says which struts intersect although the schema has nothing against them', async () => {
    // the shortest edges of GP(5,0) are 0.86 of the ideal edge: a diameter between the two is legal and cannot be built
    const parameterSet = {
      carrier: { shape: 'sphere', outsideDiameterMm: 100 },
      tiling: { kind: 'goldberg', m: 5, n: 0 },
      layers: [{ depthMm: 0, strutDiameterMm: 6 }],
    };
    const outcome = evaluate(await inputOf({ parameterSet }));
    expect(outcome).toMatchObject({ kind: 'failed', error: { code: 'struts-intersect', details: { radiiMm: [3, 3] } } });
    const details = outcome.kind === 'failed' ? outcome.error.details : undefined;
    expect(details?.distanceMm).toBeLessThan(6);
    expect(details?.struts).toHaveLength(2);
  });

  it('does not mix currencies', () => {
    const buildVolume = { ...small.buildVolume, hourlyRate: { amount: 25, currency: 'USD' } };
    const stages: string[] = [];
    const input = { ...small, buildVolume, tests: { depth: 'full' } } as const;
    expect(evaluate(input, { onStage: (stage) => stages.push(stage) })).toMatchObject({
      kind: 'failed',
      error: { code: 'currency-mismatch' },
    });
    // told before the stages that take long
    expect(stages.at(-1)).toBe('build');
    expect(stages).not.toContain('compression');
  });

  it('is not one that cannot be made: too large a ball is evaluated, and fails its check', async () => {
    const parameterSet = { ...SMALL_BALL, carrier: { shape: 'sphere', outsideDiameterMm: 600 } };
    const result = resultOf(await inputOf({ parameterSet }));
    expect(result.build.fits).toBe(false);
    expect(result.cost).toBeNull();
    expect(result.printability.verdict).toBe('fail');
    expect(result.printability.checks.find(({ id }) => id === 'fits-build-volume')?.status).toBe('fail');
    expect(resultSchema.safeParse(withEngine(result)).success).toBe(true);
  });
});

describe('the targets of an evaluation', () => {
  it('are those of its reference, in its order, each with the value of the result', async () => {
    const result = resultOf(await inputOf({ reference: 'football-size-5' }));
    expect(result.targets.map(({ quantity }) => quantity)).toEqual(['massG', 'circumferenceMm', 'reboundHeightMm']);
    expect(result.targets[0]).toMatchObject({ value: result.massProperties.massG, within: false });
    expect(result.targets[1].value).toBe(result.geometry.circumferenceMm);
    // no mechanics at this depth: not a miss, but no value
    expect(result.targets[2]).toMatchObject({ value: null, within: null, missPct: null });
    expect(resultOf(small).targets).toEqual([]);
  });
});
