import { describe, expect, it } from 'vitest';
import { framedAt, unitFrame } from '../../../worker/engine/framed.ts';
import { type CompressionTest, compress } from '../../../worker/engine/impact/compression.ts';
import { pressPart } from '../../../worker/engine/impact/compression-part.ts';
import { platesOf } from '../../../worker/engine/impact/compression-plates.ts';
import { grown } from '../../../worker/engine/lattice/index.ts';
import { type Ball, latticeOf, parametersOf, tilingOf } from '../lattice/samples.ts';
import { plainFrame, turnedGraph } from './lattices.ts';

const MODULUS_MPA = 60;

const balls = {
  'a mirror plane between the plates': { m: 2, n: 0, orientation: 'split-plane' },
  'a pentagon on top': { m: 1, n: 1, orientation: 'pentagon-up' },
  'rotations only': { m: 2, n: 1, orientation: 'split-plane' },
} as const;
type Name = keyof typeof balls;

const ballOf = (name: Name): Ball => ({
  ...balls[name],
  outsideDiameterMm: 94,
  layers: [
    { depthMm: 0, strutDiameterMm: 4 },
    { depthMm: 9, strutDiameterMm: 3.5 },
  ],
  posts: 3.5,
});

function pressed(ball: Ball, test: Omit<CompressionTest, 'outsideDiameterMm'>, symmetric: boolean) {
  const { graph } = latticeOf(ball);
  const { rotations } = tilingOf(parametersOf(ball)).symmetry;
  const frame = plainFrame(graph, MODULUS_MPA);
  const part = { frame, modulusMPa: MODULUS_MPA, relaxation: null, ...(symmetric ? { rotations } : {}) };
  const outcome = compress(part, { outsideDiameterMm: ball.outsideDiameterMm, ...test });
  if (outcome.kind !== 'report') throw new Error(outcome.message);
  return outcome;
}

function orderOf(ball: Ball, turn = (place: readonly number[]): readonly number[] => place): number {
  const frame = plainFrame(turnedGraph(latticeOf(ball).graph, turn), MODULUS_MPA);
  const { rotations } = tilingOf(parametersOf(ball)).symmetry;
  const pressedFrame = { frame, modulusMPa: MODULUS_MPA, relaxation: null, rotations };
  return pressPart(pressedFrame, platesOf(frame.graph, frame.natural))?.maps.length ?? 1;
}

describe('a part between plates that keeps its symmetry', () => {
  // Orders of the point groups D2h, D5d and D2 (textbook).
  it.each([
    ['a mirror plane between the plates', 8],
    ['a pentagon on top', 20],
    ['rotations only', 4],
  ] as const)('falls on itself with %s in %i ways', (name, order) => {
    expect(orderOf(ballOf(name))).toBe(order);
  });

  it('has none where it lies beside the axis', () => {
    expect(orderOf(ballOf('a pentagon on top'), ([x, y, z]) => [x + 1, y + 0.7, z + 0.3])).toBe(1);
  });

  it.each(Object.keys(balls) as Name[])('gives with %s as the whole does', (name) => {
    const test = { toPctOfDiameter: 4, secantAtPct: 3 };
    const [part, whole] = [true, false].map((symmetric) => pressed(ballOf(name), test, symmetric));
    expect(part.end).toBe('reached');
    expect(part.curve.map(({ deflectionMm }) => deflectionMm)).toEqual(whole.curve.map(({ deflectionMm }) => deflectionMm));
    // Equilibrium is found to some 1e-6 of the force, on either way.
    part.curve.forEach(({ forceN }, k) =>
      expect(Math.abs(forceN - whole.curve[k].forceN)).toBeLessThan(1e-5 * whole.curve[k].forceN + 1e-12),
    );
    expect(Math.abs(part.energyMJ / whole.energyMJ - 1)).toBeLessThan(1e-6);
    expect(Math.abs(part.peakStrainPct / whole.peakStrainPct - 1)).toBeLessThan(1e-5);
    // Moves of the order of 1 mm; the softest hardly need a force.
    part.deformedXyz.forEach((x, k) => expect(Math.abs(x - whole.deformedXyz[k])).toBeLessThan(1e-4));
  });

  it.each([
    [4, 3, 0.2],
    [5, 3.2, 0.1],
    [4.6, 3.6, 0.3],
  ])('does not roll out between the plates where its symmetry would let it: struts %f, posts %f, grown by %f mm', (strut, post, growth) => {
    const layers = [strut, post].map((strutDiameterMm, k) => ({ depthMm: 10 * k, strutDiameterMm }));
    const ball: Ball = { m: 1, n: 1, outsideDiameterMm: 100, orientation: 'split-plane', layers, posts: post };
    const { rotations } = tilingOf(parametersOf(ball)).symmetry;
    const lattice = grown(latticeOf(ball), { inLayer: growth, upright: 0.4 * growth }, rotations);
    const frame = framedAt(unitFrame(lattice.graph, 0.45, {}), MODULUS_MPA, null);
    const part = { frame, modulusMPa: MODULUS_MPA, relaxation: null };
    // all that is left of its symmetry is a map that turns with the part
    expect(pressPart({ ...part, rotations }, platesOf(frame.graph, frame.natural))!.maps).toHaveLength(2);
    const test = { outsideDiameterMm: 100, toPctOfDiameter: 5, secantAtPct: 5 };
    const [alike, whole] = [{ ...part, rotations }, part].map((each) => compress(each, test));
    if (alike.kind !== 'report' || whole.kind !== 'report') throw new Error('disconnected');
    expect(alike.end).toBe('reached');
    expect(alike.secantNPerMm! / whole.secantNPerMm!).toBeCloseTo(1, 5);
  });

  it('keeps to its path however far it is pressed: what breaks the symmetry by rounding does not grow', () => {
    const shell: Ball = {
      ...{ m: 2, n: 0, outsideDiameterMm: 60, orientation: 'pentagon-up', posts: 3 },
      layers: [
        { depthMm: 0, strutDiameterMm: 3 },
        { depthMm: 3.6, strutDiameterMm: 3 },
      ],
    };
    const test = { toPctOfDiameter: 30, secantAtPct: 2 };
    const [part, whole] = [true, false].map((symmetric) => pressed(shell, test, symmetric));
    expect(part.firstBuckling).toBeNull();
    part.curve.forEach(({ forceN }, k) => expect(Math.abs(forceN - whole.curve[k].forceN)).toBeLessThan(1e-5 * forceN + 1e-12));
  });

  it('loses its stability where the whole does, and goes on as the whole', () => {
    const shell: Ball = { m: 1, n: 1, outsideDiameterMm: 60, layers: [{ depthMm: 0, strutDiameterMm: 2 }], orientation: 'pentagon-up' };
    const test = { toPctOfDiameter: 40, secantAtPct: 2 };
    const [part, whole] = [true, false].map((symmetric) => pressed(shell, test, symmetric));
    expect(whole.firstBuckling).not.toBeNull();
    expect(part.firstBuckling!.deflectionMm).toBe(whole.firstBuckling!.deflectionMm);
    expect(part.firstBuckling!.forceN / whole.firstBuckling!.forceN).toBeCloseTo(1, 6);
    // Which of its like ways it goes from there is chance.
    const last = (report: typeof part) => report.curve[report.curve.length - 1].forceN;
    expect(last(part) / last(whole)).toBeCloseTo(1, 4);
  });

  it('tells where struts touch', () => {
    const shell: Ball = {
      ...{ m: 1, n: 1, outsideDiameterMm: 60, orientation: 'split-plane', posts: 4 },
      layers: [
        { depthMm: 0, strutDiameterMm: 4 },
        { depthMm: 5, strutDiameterMm: 4 },
      ],
    };
    const test = { toPctOfDiameter: 60, secantAtPct: 2 };
    const [part, whole] = [true, false].map((symmetric) => pressed(shell, test, symmetric));
    expect(part.firstContact!.deflectionMm).toBeCloseTo(whole.firstContact!.deflectionMm, 9);
    expect(part.firstContact!.forceN / whole.firstContact!.forceN).toBeCloseTo(1, 4);
  });
});
