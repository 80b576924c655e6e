import { describe, expect, it } from 'vitest';
import { integrateUnion, massProperties, meanWidth, unionSurface } from '../../../worker/engine/solid/index.ts';
import {
  type Bounced,
  type BouncingPart,
  COMMON_VARIATION,
  exactFigures,
  makePrinter,
  type StudyInput,
  VARIATION_SOURCES,
  type Variation,
  variationStudy,
} from '../../../worker/engine/vary/index.ts';
import { stretch } from '../../../worker/engine/vary/quick-weighing.ts';
import { doubleShell } from '../lattice/samples.ts';
import { NO_VARIATION } from './no-variation.ts';

const NONE: Variation = NO_VARIATION;

const lattice = doubleShell(1, 1, [26, 19], [3, 2.4, 2.6]);
const { graph, symmetry } = lattice;
const surface = unionSurface(graph);
const union = integrateUnion(graph, surface, symmetry);
const nominal = {
  graph,
  outerNodes: lattice.nodesPerLayer,
  circumferenceMm: Math.PI * meanWidth(graph, lattice.nodesPerLayer),
  densityGMm3: 1.1e-3,
};
const MASS = 'massProperties.massG';
const OFFSET = 'balance.centreOfMassOffsetMm';
const nominalMass = massProperties(union.moments, [0, 0, 0], 1.1e-3).mass;

function studyOf(variation: Partial<Variation>, change: Partial<StudyInput> = {}) {
  const counts = { seed: 1, parts: 400, exactParts: 0, bouncingParts: 0 };
  const found = variationStudy({
    ...{ nominal, surface, union, symmetry, bands: [], ...counts },
    variation: { ...NONE, ...variation },
    ...change,
  });
  if (found.kind === 'refused') throw new Error(found.message);
  return found;
}

describe('a variation study', () => {
  it('without variation is the design, every time', () => {
    const { quantities } = studyOf({}, { parts: 3 });
    expect(quantities[MASS]).toMatchObject({ deviation: 0, mean: expect.closeTo(nominalMass, 10) });
    expect(quantities['geometry.circumferenceMm'].mean).toBeCloseTo(nominal.circumferenceMm, 10);
    // Nothing but rounding of a symmetric sum.
    expect(quantities[OFFSET].mean).toBeLessThan(1e-10);
    expect(quantities['balance.halfMassDifferencePct'].mean).toBeLessThan(1e-7);
  });

  it('is the same for the same seed, and part k is the same however many are drawn', () => {
    const values = (parts: number, seed: number) => studyOf(COMMON_VARIATION, { parts, seed }).quantities[MASS].mean * parts;
    expect(values(20, 5)).toBe(values(20, 5));
    expect(values(20, 5)).not.toBe(values(20, 6));
    const print = makePrinter(graph, COMMON_VARIATION, 5);
    const again = makePrinter(graph, COMMON_VARIATION, 5);
    const later = again(7);
    print(3);
    expect(print(7)).toEqual(later);
  });

  it('names a source for every value it assumes', () => {
    expect(Object.keys(VARIATION_SOURCES).sort()).toEqual(Object.keys(COMMON_VARIATION).sort());
    for (const source of Object.values(VARIATION_SOURCES)) expect(source).toMatch(/from memory|read in copies|judgement/);
  });
});

describe('scatter that has a closed form', () => {
  // A deviation of 400 samples is good to 1 / sqrt(800) = 3.5 %; four of those.
  const FOUR = 0.14;

  it('of density passes to the mass, of size with its cube and to the circumference', () => {
    const dense = studyOf({ densityPct: 2 }).quantities;
    expect(Math.abs(dense[MASS].deviation / (0.02 * nominalMass) - 1)).toBeLessThan(FOUR);
    expect(dense['massProperties.volumeMm3'].deviation).toBeLessThan(1e-9 * union.moments[0]);
    const large = studyOf({ scalePct: 0.2 }).quantities;
    expect(Math.abs(large[MASS].deviation / (0.006 * nominalMass) - 1)).toBeLessThan(FOUR);
    expect(Math.abs(large['geometry.circumferenceMm'].deviation / (0.002 * nominal.circumferenceMm) - 1)).toBeLessThan(FOUR);
  });

  it('of the height over the width makes an ellipsoid: inertia by 1 : (1 + s^2) / 2, tops by half the diameter', () => {
    const { quantities } = studyOf({ upScalePct: 0.5 }, { exactParts: 1 });
    // I_x / I_z = (1 + s^2) / 2 for s = 1 + e: a spread of e = 0.5 % in the mean of |e|, sqrt(2 / pi) of its deviation.
    const spread = 100 * 0.005 * Math.sqrt(2 / Math.PI);
    expect(Math.abs(quantities['balance.inertiaSpreadPct'].mean / spread - 1)).toBeLessThan(FOUR);
    // Tops at the radius and at the node nearest to the pole: within a few percent of the whole difference for 60 nodes.
    const runout = 0.005 * Math.sqrt(2 / Math.PI) * 26;
    expect(quantities['balance.radialRunoutMm'].mean).toBeGreaterThan(0.8 * runout);
    expect(quantities['balance.radialRunoutMm'].mean).toBeLessThan(1.1 * runout);
    expect(quantities[OFFSET].mean).toBeLessThan(1e-9);
  });

  it('of all diameters together adds the same to the outside diameter', () => {
    const { quantities } = studyOf({ partScatterMm: 0.06 });
    const { 'geometry.outsideDiameterMm': outside, 'geometry.circumferenceMm': round } = quantities;
    expect(Math.abs(outside.deviation / 0.06 - 1)).toBeLessThan(FOUR);
    expect(round.deviation / outside.deviation).toBeCloseTo(Math.PI, 9);
    expect(quantities[OFFSET].mean).toBeLessThan(1e-9);
  });

  it('of single struts shrinks with their number: the centre of mass wanders by r sigma sqrt(n) shares', () => {
    // Every strut's volume scatters by pi d L sigma / 2 (sides less joints, so a little less) at radius R: the offset's mean square is their sum over V^2.
    const { quantities } = studyOf({ diameterScatterMm: 0.06 });
    let square = 0;
    for (let s = 0; s < graph.strutCount; s++) {
      const [a, b] = [graph.ends[2 * s], graph.ends[2 * s + 1]].map((v) => [...graph.xyz.subarray(3 * v, 3 * v + 3)]);
      const length = Math.hypot(...[0, 1, 2].map((k) => a[k] - b[k]));
      const middle = Math.hypot(...[0, 1, 2].map((k) => (a[k] + b[k]) / 2));
      square += ((Math.PI * graph.diameters[2 * s] * length * 0.03 * middle) / union.moments[0]) ** 2;
    }
    const found = Math.hypot(quantities[OFFSET].mean, quantities[OFFSET].deviation) / Math.sqrt(square);
    // Joints take a quarter of these short struts' sides, and node spheres give some back.
    expect(found).toBeGreaterThan(0.65);
    expect(found).toBeLessThan(1);
  });

  it('of a drift from side to side moves the centre of mass like a shell of uneven thickness: a R / 3', () => {
    const { quantities } = studyOf({ driftMm: 0.06 });
    // Mass goes with d^2 and d with cos: a = D / d of struts 3 mm thick at 26 mm, whose |D| is sqrt(2 / pi) of its deviation on average.
    const shell = ((0.06 * Math.sqrt(2 / Math.PI)) / 3) * (26 / 3);
    // The inner layer, thinner struts and joints move it by a tenth or so.
    expect(Math.abs(quantities[OFFSET].mean / shell - 1)).toBeLessThan(0.25);
    expect(studyOf({ driftMm: 0.12 }).quantities[OFFSET].mean / quantities[OFFSET].mean).toBeCloseTo(2, 2);
  });

  it('of size acts on all moments as on a point that moves', () => {
    const [x, y, z] = [3, -2, 5];
    const at = (p: number[], volume: number) =>
      [1, p[0], p[1], p[2], p[0] ** 2, p[1] ** 2, p[2] ** 2, p[0] * p[1], p[0] * p[2], p[1] * p[2]].map((m) => volume * m);
    const moments = Float64Array.from(at([x, y, z], 7));
    expect(stretch(moments, { scale: 1.1, upScale: 0.9 })).toBeCloseTo(1.1 ** 3 * 0.9, 12);
    const moved = at([1.1 * x, 1.1 * y, 1.1 * 0.9 * z], 7 * 1.1 ** 3 * 0.9);
    moments.forEach((m, k) => {
      expect(m).toBeCloseTo(moved[k], 9);
    });
  });

  it('of the direction leaves the design symmetric about its axis: thicker level struts, moments of inertia apart, mass centred', () => {
    const { quantities } = studyOf(
      {
        biasByAngle: [
          { angleDeg: 0, biasMm: 0 },
          { angleDeg: 90, biasMm: 0.2 },
        ],
      },
      { parts: 2 },
    );
    expect(quantities[MASS].mean).toBeGreaterThan(1.03 * nominalMass);
    expect(quantities['balance.inertiaSpreadPct'].mean).toBeGreaterThan(0.1);
    expect(quantities[OFFSET].mean).toBeLessThan(0.01);
  });
});

describe('quick weighing', () => {
  it('agrees with the union integrated anew', () => {
    const { check, quantities, warnings } = studyOf(COMMON_VARIATION, { exactParts: 3 });
    expect(check.parts).toBe(3);
    // Rims of node spheres, (2/3) pi (2 r e)^1.5 for a strut thinner by e, leave a few parts in ten thousand out.
    expect(check.errors[MASS].largest).toBeLessThan(1e-3 * nominalMass);
    expect(check.errors[OFFSET].largest).toBeLessThan(0.02 * quantities[OFFSET].deviation + 1e-3);
    expect(check.errors['balance.halfMassDifferencePct'].largest).toBeLessThan(0.02);
    expect(check.errors['balance.radialRunoutMm'].largest).toBeLessThan(2e-3);
    expect(warnings).toEqual([]);
  });

  it.each([
    // All radii alike: the second order of joints, a factor 4 for twice the change. One by one: rims as well, 2^1.5 = 2.8 or more.
    ['all struts alike', { partScatterMm: 0.05 }, 3.5],
    ['each strut by itself', { diameterScatterMm: 0.05 }, 2.4],
  ])('errs by the second order, or the order 1.5 of rims: %s', (_, one, factor) => {
    const twice = Object.fromEntries(Object.entries(one).map(([name, value]) => [name, 2 * value]));
    const error = (variation: Partial<Variation>) => studyOf(variation, { parts: 2, exactParts: 2 }).check.errors[MASS].largest;
    expect(error(twice) / error(one)).toBeGreaterThan(factor);
  });

  it('says so when it is coarser than what it is to show', () => {
    const found = studyOf({ biasByAngle: [{ angleDeg: 0, biasMm: 0.6 }], diameterScatterMm: 1e-4 }, { parts: 20, exactParts: 1 });
    expect(found.warnings).toContainEqual(expect.objectContaining({ code: 'quick-weighing-coarse' }));
  });
});

describe('shares that meet the targets', () => {
  const bands = [
    { quantity: MASS, min: 0.99 * nominalMass, max: 1.06 * nominalMass },
    { quantity: OFFSET, max: 0.1 },
    { quantity: 'rebound.restitution.mean', min: 0.7 },
    { quantity: 'geometry.circumferenceMm' },
  ];

  it('are counted with their interval, the one for all at most each of them; unknown quantities are not judged', () => {
    const { targets, all } = studyOf(COMMON_VARIATION, { bands });
    expect(targets.map(({ within }) => within?.count ?? null)).toEqual([400, 400, null, null]);
    const [mass, offset] = targets.map(({ within }) => within!);
    for (const { share, from, to } of [mass, offset, all!]) {
      expect(from).toBeLessThan(share);
      expect(to).toBeGreaterThan(share);
    }
    expect(all!.hits).toBeLessThanOrEqual(Math.min(mass.hits, offset.hits));
    expect(all!.hits).toBeGreaterThanOrEqual(mass.hits + offset.hits - 400);
    expect(studyOf(COMMON_VARIATION).all).toBeNull();
  });

  it('join the figures of the same part, weighed and dropped', () => {
    const bounce = ({ index, massG }: BouncingPart): Bounced =>
      index === 2 ? null : { 'rebound.restitution.mean': massG > nominalMass ? 0.8 : 0.6 };
    const { targets, all, failedBounces, warnings, quantities } = studyOf(COMMON_VARIATION, {
      bands: [bands[2], { quantity: MASS, max: nominalMass }],
      bounce,
      bouncingParts: 30,
    });
    expect(failedBounces).toBe(1);
    expect(warnings).toMatchObject([{ code: 'parts-without-bounce' }]);
    expect(quantities['rebound.restitution.mean'].count).toBe(29);
    expect(targets[0].within!.hits).toBeGreaterThan(0);
    // Heavy parts bounce and light ones are light enough: none does both.
    expect(all).toMatchObject({ count: 29, hits: 0 });
  });
});

describe('parts that bounce', () => {
  it('come as lattices of their own, with the mass they weigh', () => {
    const found: BouncingPart[] = [];
    studyOf(COMMON_VARIATION, {
      parts: 3,
      bouncingParts: 2,
      bounce: (part) => {
        found.push(part);
        return {};
      },
    });
    expect(found.map(({ index }) => index)).toEqual([0, 1]);
    const exact = exactFigures(nominal, makePrinter(graph, COMMON_VARIATION, 1)(1));
    // The quick weighing's own error.
    expect(Math.abs(found[1].massG / exact[MASS] - 1)).toBeLessThan(1e-3);
    expect(found[0].graph.diameters[0]).not.toBe(found[1].graph.diameters[0]);
    expect(found[0].modulusFactor).not.toBe(found[1].modulusFactor);
  });
});

describe('limits', () => {
  it('refuse what would leave nothing of a strut, and values out of range', () => {
    const refused = (variation: Partial<Variation>) =>
      variationStudy({
        ...{ nominal, surface, union, symmetry, bands: [], seed: 1, parts: 2, exactParts: 0, bouncingParts: 0 },
        variation: { ...NONE, ...variation },
      });
    expect(refused({ diameterScatterMm: 0.4 })).toMatchObject({ kind: 'refused', code: 'variation-too-large' });
    expect(refused({ biasByAngle: [{ angleDeg: 45, biasMm: -1.3 }] })).toMatchObject({ code: 'variation-too-large' });
    expect(refused({ densityPct: -1 })).toMatchObject({ code: 'variation-out-of-range', message: 'densityPct is -1; allowed: 0 to 20' });
    expect(refused({ modulusPct: Number.NaN })).toMatchObject({ code: 'variation-out-of-range' });
    expect(
      refused({
        biasByAngle: [
          { angleDeg: 30, biasMm: 0 },
          { angleDeg: 20, biasMm: 0 },
        ],
      }),
    ).toMatchObject({ code: 'variation-out-of-range' });
  });

  it('stop early when cancelled, and tell of the way', () => {
    let asked = 0;
    const told: number[] = [];
    const input = {
      nominal,
      surface,
      union,
      symmetry,
      bands: [],
      seed: 1,
      parts: 500,
      exactParts: 2,
      bouncingParts: 0,
      variation: COMMON_VARIATION,
    };
    const found = variationStudy(input, { isCancelled: () => ++asked > 100, reach: (share) => told.push(share) });
    expect(found).toMatchObject({ kind: 'study', check: { parts: 0 } });
    // A few of the hundred answers went to the slopes before the first part.
    expect((found as { quantities: Record<string, { count: number }> }).quantities[MASS].count).toBeLessThan(100);
    expect([...told].sort((a, b) => a - b)).toEqual(told);
  });
});
