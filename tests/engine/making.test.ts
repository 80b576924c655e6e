import { describe, expect, it } from 'vitest';
import { result as resultSchema } from '../../openapi/index.ts';
import { evaluate, massOfGraph } from '../../worker/engine/index.ts';
import { inputOf, SMALL_BALL, TRAINING_BALL } from './inputs.ts';

/** Few struts, long enough for a mark. */
const AIRY_BALL = {
  ...SMALL_BALL,
  carrier: { shape: 'sphere', outsideDiameterMm: 120 },
  layers: [SMALL_BALL.layers[0], { depthMm: 13, strutDiameterMm: 3 }],
} as const;

async function evaluated(given: Parameters<typeof inputOf>[0] = {}) {
  const outcome = evaluate(await inputOf(given));
  if (outcome.kind !== 'done') throw new Error(JSON.stringify(outcome));
  return outcome;
}

describe('making, in an evaluation', () => {
  it('shows the part as built: larger by what it shrinks', async () => {
    const { material } = await inputOf();
    const { build, massProperties } = (await evaluated({ material: { ...material, shrinkagePct: [2, 3, 4] } })).result;
    const { scale, outsideDiameterMm, packingDiameterMm, volumeMm3 } = build.asBuilt;
    expect(scale).toEqual([1 / 0.98, 1 / 0.97, 1 / 0.96]);
    expect(outsideDiameterMm).toEqual(scale.map((factor) => expect.closeTo(70 * factor, 9)));
    expect(packingDiameterMm).toBeCloseTo(70 / 0.96, 9);
    expect(volumeMm3).toBeCloseTo(massProperties.volumeMm3 / (0.98 * 0.97 * 0.96), 6);
  });

  it('tells the cost from one part to a full build, which is the last point', async () => {
    const { build, cost } = (await evaluated({ parameterSet: TRAINING_BALL })).result;
    const { curve, totalPerPart } = cost!;
    expect(curve.map(({ parts }) => parts)).toEqual(Array.from({ length: build.partsPerBuild }, (_, i) => i + 1));
    expect(curve.at(-1)).toMatchObject({ totalPerPart, totalHours: build.totalHours, heightMm: build.heightMm });
    expect(curve[0].totalPerPart.amount).toBeGreaterThan(totalPerPart.amount);
  });

  it('marks the part where that is asked for: counted in mass and cost, with the imbalance it makes', async () => {
    const [plain, marked] = [
      await evaluated({ parameterSet: AIRY_BALL }),
      await evaluated({ parameterSet: AIRY_BALL, build: { mark: 6 } }),
    ];
    expect(plain.result.build.mark).toBeNull();
    expect(plain.marked).toBe(plain.graph);
    const mark = marked.result.build.mark!;
    expect(mark.number).toBe(6);
    // The design stays as it is, halves and all; the mark is told beside it.
    expect(marked.graph).toEqual(plain.graph);
    expect(marked.result.massProperties).toEqual(plain.result.massProperties);
    expect(marked.result.balance).toEqual(plain.result.balance);
    expect(plain.result.balance.halfMassDifferencePct).toBeLessThan(1e-6);
    const printed = massOfGraph(marked.marked, 1.1);
    // Two integrals of some 50 g, each good to 1e-9 of it.
    expect(mark.markedMassG).toBeCloseTo(printed.massG, 6);
    expect(mark.markedMassG).toBeGreaterThan(plain.result.massProperties.massG);
    expect(mark.imbalance.centreOfMassOffsetMm).toBeCloseTo(Math.hypot(...printed.centreOfMassMm), 6);
    expect(mark.imbalance.centreOfMassOffsetMm).toBeGreaterThan(1e-3);
    expect(mark.imbalance.halfMassDifferencePct).toBeCloseTo((100 * mark.extraMassG) / mark.markedMassG, 9);
  });

  it('fails where there is no room for a mark that is asked for, and only then', async () => {
    const parameterSet = {
      ...SMALL_BALL,
      tiling: { ...SMALL_BALL.tiling, m: 3, n: 3 },
      layers: [{ depthMm: 0, strutDiameterMm: 2 }],
      links: { pattern: 'none' },
    };
    expect(evaluate(await inputOf({ parameterSet, build: { mark: 1000 } }))).toMatchObject({
      kind: 'failed',
      error: { code: 'no-room-for-mark', details: { number: 1000 } },
    });
    expect(evaluate(await inputOf({ parameterSet })).kind).toBe('done');
  });

  it('compares ways up of the same part: a gradient turns with it', async () => {
    const parameterSet = {
      ...SMALL_BALL,
      layers: [{ ...SMALL_BALL.layers[0], gradient: { axis: 'z', fromFactor: 0.8, toFactor: 1.2 } }, SMALL_BALL.layers[1]],
    };
    const { result } = await evaluated({ parameterSet, build: { compareOrientations: true } });
    const { figures, cheapest, roundest, safest } = result.build.orientations!;
    expect(figures.map(({ orientation }) => orientation)).toEqual(['split-plane', 'pentagon-up', 'hexagon-up']);
    for (const choice of [cheapest!, roundest, safest]) expect(figures.map((each) => each.orientation)).toContain(choice.orientation);
    const asDesigned = figures.find(({ orientation }) => orientation === SMALL_BALL.tiling.orientation)!;
    expect(asDesigned.totalPerPart).toEqual(result.cost!.totalPerPart);
    expect(asDesigned.totalHours).toBe(result.build.totalHours);
    // Turned, not built anew: struts of 3 mm times 0.8 to 1.2 have one total side area however they stand, so all three steps differ little.
    expect(new Set(figures.map(({ largestLayerAreaJumpMm2 }) => largestLayerAreaJumpMm2.toFixed(6))).size).toBe(3);
    expect(result.build.orientations!.assumptions.length).toBeGreaterThan(0);
  });

  it("of an answer with everything in it has the contract's fields", async () => {
    const { result } = await evaluated({ parameterSet: AIRY_BALL, build: { mark: 2, compareOrientations: true } });
    const whole = { engine: { version: '0', inputHash: '' }, ...result };
    expect(JSON.parse(JSON.stringify(whole))).toEqual(resultSchema.parse(whole));
  });
});
