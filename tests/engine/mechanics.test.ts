import { describe, expect, it } from 'vitest';
import { ENGINE_VERSION, result as resultSchema, STAGES } from '../../openapi/index.ts';
import { type EngineInput, type EngineResult, type Evaluated, evaluate } from '../../worker/engine/index.ts';
import { inputOf, SMALL_BALL } from './inputs.ts';

const QUICK = { drop: { orientations: 1 }, compression: { toPctOfDiameter: 6, secantAtPct: 5 }, frequencies: 3 };
const inputTo = (depth: string, tests: object = {}, more: object = {}) => inputOf({ tests: { ...QUICK, depth, ...tests }, ...more });
const resultOf = (input: EngineInput): EngineResult => {
  const outcome = evaluate(input);
  if (outcome.kind !== 'done') throw new Error(JSON.stringify(outcome));
  return outcome.result;
};
const partialOf = (input: EngineInput): { code: string; partial: Evaluated | null } => {
  const outcome = evaluate(input);
  if (outcome.kind !== 'failed') throw new Error(outcome.kind);
  return { code: outcome.error.code, partial: outcome.partial };
};
/** As the contract has it, and as JSON keeps it: no NaN, no Infinity, nothing but its fields. */
const keepsToContract = (figures: EngineResult) => {
  const result = { engine: { version: ENGINE_VERSION, inputHash: 'sha256:0' }, ...figures };
  expect(JSON.parse(JSON.stringify(result))).toEqual(resultSchema.parse(result));
};

const full = resultOf(await inputTo('full'));

describe('the depth of an evaluation', () => {
  it('decides which parts of the result there are', async () => {
    const there = ({ material, stiffness, vibration, rebound, life }: EngineResult) =>
      Object.entries({ material, stiffness, vibration, rebound, life }).flatMap(([name, part]) => (part ? [name] : []));
    expect(there(full)).toEqual(['material', 'stiffness', 'vibration', 'rebound', 'life']);
    expect(there(resultOf(await inputTo('static')))).toEqual(['material', 'stiffness', 'vibration']);
    expect(there(resultOf(await inputTo('geometry')))).toEqual([]);
    keepsToContract(full);
  });

  it('passes the stages of mechanics in their order, its share of the work rising on the way', async () => {
    const seen: [string, number][] = [];
    evaluate(await inputTo('full'), { onStage: (stage, done) => seen.push([stage, done]) });
    expect([...new Set(seen.map(([stage]) => stage))]).toEqual(STAGES.filter((stage) => !['throw', 'motion', 'variation'].includes(stage)));
    expect(seen.filter(([stage]) => stage === 'drop').length).toBeGreaterThan(10);
    for (let k = 1; k < seen.length; k++) expect(seen[k][1]).toBeGreaterThanOrEqual(seen[k - 1][1]);
  });
});

describe('a drop that is not told how', () => {
  const codes = ({ warnings }: EngineResult) => warnings.map(({ code }) => code);
  it('takes the height of the reference, else a usual one with a warning', async () => {
    expect(full.rebound?.dropHeightMm).toBe(1800);
    expect(codes(full)).toContain('drop-height-assumed');
    const ofReference = resultOf(await inputTo('full', {}, { reference: 'football-size-5' }));
    expect(ofReference.rebound?.dropHeightMm).toBe(2000);
    expect(codes(ofReference)).not.toContain('drop-height-assumed');
    const told = resultOf(await inputTo('full', { drop: { heightMm: 500, orientations: 1 } }, { reference: 'football-size-5' }));
    expect(told.rebound?.dropHeightMm).toBe(500);
  });

  it('goes six ways, the axes of symmetry first', async () => {
    const names = resultOf(await inputTo('full', { drop: { heightMm: 300 } })).rebound?.byOrientation.map(({ name }) => name);
    expect(names).toHaveLength(6);
    expect(names?.[0]).toBe('pentagon');
    expect(names?.at(-1)).toMatch(/^random-/);
  });
});

describe('what targets mechanics meets', () => {
  it('is read from stiffness and rebound by their short names', async () => {
    const targets = ['stiffnessNPerMm', 'reboundHeightMm', 'restitution', 'peakForceN'].map((quantity) => ({ quantity, min: 0.1 }));
    const found = resultOf(await inputTo('full', {}, { reference: { targets } }));
    const { stiffness, rebound } = found;
    const values = [stiffness?.secantNPerMm, rebound?.reboundHeightMm?.mean, rebound?.restitution?.mean, rebound?.peakForceN];
    expect(found.targets.map(({ value }) => value)).toEqual(values);
    expect(found.targets.every(({ within }) => within)).toBe(true);
  });
});

describe('a lattice that mechanics ends badly for', () => {
  const flimsy = {
    ...SMALL_BALL,
    layers: [
      { depthMm: 0, strutDiameterMm: 0.8 },
      { depthMm: 8, strutDiameterMm: 0.8 },
    ],
    links: { pattern: 'posts', strutDiameterMm: 0.8 },
  };
  it('fails by name, with every number so far in the shape of the contract', async () => {
    const { code, partial } = partialOf(await inputTo('full', { drop: { heightMm: 5000, orientations: 2 } }, { parameterSet: flimsy }));
    expect(code).toBe('collapsed');
    expect(partial?.result.massProperties.massG).toBeGreaterThan(0);
    expect(partial?.result.rebound?.byOrientation).toHaveLength(2);
    expect(partial?.result.printability.checks.length).toBeGreaterThan(5);
    expect(partial?.graph.strutCount).toBe(240);
    keepsToContract(partial!.result);
  });

  it('refuses a loss factor that no material model gives, by name', async () => {
    const { material } = await inputTo('static');
    const { code, partial } = partialOf(await inputTo('static', {}, { material: { ...material, lossFactor: 2 } }));
    expect(code).toBe('loss-factor-too-high');
    expect(partial?.result.stiffness).toBeNull();
  });
});

describe('an evaluation that is cancelled', () => {
  it.each([
    // Work that goes on between looks is bounded by how often they come: in every strut and node weighed, plane tried, block of a factor, eight steps.
    ['mass', 200],
    ['balance', 2000],
    ['slices', 200],
    ['compression', 200],
    ['vibration', 100],
    ['drop', 50],
  ])('is asked for in %s at least %i times', async (stage, least) => {
    let [at, looks] = ['', 0];
    const count = () => {
      if (at === stage) looks++;
      return false;
    };
    evaluate(await inputTo('full'), { onStage: (entered) => (at = entered), isCancelled: count });
    expect(looks).toBeGreaterThanOrEqual(least);
  });

  it.each(['tiling', 'lattice', 'mass', 'balance', 'compression', 'vibration', 'drop'])('amid %s ends at the next look', async (stage) => {
    let [at, looks] = ['', 0];
    const outcome = evaluate(await inputTo('full'), {
      onStage: (entered) => {
        at = entered;
      },
      isCancelled: () => at === stage && ++looks > 2,
    });
    expect(outcome).toEqual({ kind: 'cancelled' });
    // one look more may come from the stage on its way out
    expect(looks).toBeLessThan(6);
  });
});

describe('a throw at the floor', () => {
  const thrown = async (oblique: object) =>
    resultOf(await inputTo('full', { drop: { heightMm: 300, orientations: 1, oblique } })).rebound!.oblique!;
  it('is there when it is asked for, at the speed of the drop, and keeps to the contract', async () => {
    expect(full.rebound?.oblique).toBeNull();
    const result = resultOf(await inputTo('full', { drop: { heightMm: 300, orientations: 2, oblique: {} } }));
    const { speedMS, angleDeg, byOrientation } = result.rebound!.oblique!;
    expect([angleDeg, byOrientation.length]).toEqual([45, 2]);
    expect(speedMS).toBeCloseTo(Math.sqrt((2 * 9.80665 * 300) / 1000), 12);
    keepsToContract(result);
  });

  it('without friction keeps its way along the floor; with friction it turns it into spin', async () => {
    const [smooth] = (await thrown({ friction: 0 })).byOrientation;
    // no force acts along the floor, so only rounding can change that speed
    expect(smooth.tangentialShare).toBeCloseTo(1, 9);
    const [rough] = (await thrown({ friction: 0.6 })).byOrientation;
    expect(rough.tangentialShare).toBeLessThan(0.9);
    expect(rough.spinRadS).toBeGreaterThan(5);
    expect(rough.energy.frictionJ).toBeGreaterThan(0);
  });
});

describe('natural frequencies', () => {
  it('are as many as asked for, rising, and go with the root of the modulus over the density', async () => {
    const { material } = await inputTo('static');
    const ringing = async (more: object, count = 4) =>
      resultOf(await inputTo('static', { frequencies: count }, { material: { ...material, ...more } })).vibration?.frequenciesHz;
    const plain = (await ringing({}))!;
    expect(plain).toHaveLength(4);
    expect(plain[0]).toBeGreaterThan(1);
    for (let k = 1; k < 4; k++) expect(plain[k]).toBeGreaterThanOrEqual(plain[k - 1]);
    const changed = (await ringing({ modulusMPa: 4 * material.modulusMPa, densityGCm3: material.densityGCm3 / 4 }))!;
    // exact but for the tolerance of the eigenvalues, 1e-7
    for (let k = 0; k < 4; k++) expect(changed[k] / plain[k]).toBeCloseTo(4, 6);
    expect(await ringing({}, 0)).toBeUndefined();
  });
});

describe('a material by direction', () => {
  it('that is softer along the build axis makes a ball that is softer, as much where its struts stand', async () => {
    const { material } = await inputTo('static');
    const stiffness = async (directionFactors: object | null) =>
      resultOf(await inputTo('static', {}, { material: { ...material, directionFactors } })).stiffness!.initialNPerMm!;
    const plain = await stiffness(null);
    // the same factor in all directions is a modulus
    expect((await stiffness({ upright: 0.8, inLayer: 0.8 })) / plain).toBeCloseTo(0.8, 6);
    const anisotropic = await stiffness({ upright: 0.8, inLayer: 1 });
    expect(anisotropic).toBeLessThan(plain);
    expect(anisotropic).toBeGreaterThan(0.8 * plain);
  });
});
