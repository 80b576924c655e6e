import { describe, expect, it } from 'vitest';
import { massOfGraph } from '../../../worker/engine/graph-mass.ts';
import { buildLattice, type ParameterSet, type StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { type VersionMark, versionMark, withMark } from '../../../worker/engine/print/index.ts';
import { codePins, placesFor } from '../../../worker/engine/print/mark-code.ts';
import { goldberg } from '../../../worker/engine/tiling/index.ts';
import { graphOf, type Point } from './samples.ts';

const MATERIAL = { minStrutMm: 1, minGapMm: 1, densityGCm3: 1.1 };
/** mm3; moments of a whole ball and of the marked one are each good to some 1e-8. */
const VOLUMES = 6;

const ballOf = (change: Partial<ParameterSet> = {}): StrutGraph => {
  const set: ParameterSet = {
    carrier: { shape: 'sphere', outsideDiameterMm: 120 },
    tiling: { kind: 'goldberg', m: 2, n: 0, relaxation: 'none', orientation: 'split-plane' },
    layers: [
      { depthMm: 0, strutDiameterMm: 3.6 },
      { depthMm: 13, strutDiameterMm: 3 },
    ],
    links: { pattern: 'posts', strutDiameterMm: 3 },
    ...change,
  };
  const lattice = buildLattice(set, goldberg(2, 0));
  if ('refused' in lattice) throw new Error(lattice.message);
  return lattice.graph;
};
const BALL = ballOf();
const PLAIN = massOfGraph(BALL, MATERIAL.densityGCm3);

function markOf(graph: StrutGraph, number: number, material = MATERIAL): VersionMark {
  const { massG, centreOfMassMm } = graph === BALL ? PLAIN : massOfGraph(graph, material.densityGCm3);
  const outcome = versionMark(graph, number, material, { massG, centreOfMassMm });
  if (outcome.kind !== 'done') throw new Error(outcome.fault.message);
  return outcome.mark;
}

const strutEnds = ({ xyz, ends }: StrutGraph, s: number): [Point, Point] =>
  [0, 1].map((end) => [...xyz.subarray(3 * ends[2 * s + end], 3 * ends[2 * s + end] + 3)] as unknown as Point) as [Point, Point];
const roleOf = (graph: StrutGraph, s: number) => graph.roleNames[graph.roles[s]];
const heightOf = (graph: StrutGraph, s: number) => Math.abs(strutEnds(graph, s)[0][2] + strutEnds(graph, s)[1][2]) / 2;
const distance = (a: ArrayLike<number>, b: ArrayLike<number>) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

/** Distance from a point to the axis of a strut. */
function toAxis(p: ArrayLike<number>, [a, b]: [Point, Point]): number {
  const [d, q] = [0, 1].map((which) => [0, 1, 2].map((k) => (which ? p[k] - a[k] : b[k] - a[k])));
  const t = (d[0] * q[0] + d[1] * q[1] + d[2] * q[2]) / (d[0] ** 2 + d[1] ** 2 + d[2] ** 2);
  const along = Math.min(1, Math.max(0, t));
  return Math.hypot(q[0] - along * d[0], q[1] - along * d[1], q[2] - along * d[2]);
}

describe('the code of a mark', () => {
  it.each([2, 4] as const)('adds up to its number, with a pin in the last place, on %i sides', (sides) => {
    for (let number = 1; number <= 1000; number++) {
      const pins = codePins(number, sides);
      expect(pins.reduce((sum, { counts }) => sum + counts, 0)).toBe(number);
      expect(Math.max(...pins.map(({ place }) => place))).toBe(placesFor(number, sides));
      for (const { place, side, counts } of pins) expect(counts).toBe(2 ** (sides * (place - 1) + side));
    }
  });
});

describe('a graph with its mark', () => {
  const mark = markOf(BALL, 13);
  const marked = withMark(BALL, mark);

  it('keeps every node and strut but the marked one, which it splits where pins stand', () => {
    expect(marked.xyz.subarray(0, 3 * BALL.nodeCount)).toEqual(BALL.xyz);
    for (let s = 0; s < BALL.strutCount; s++) {
      if (s === mark.strut) continue;
      expect(marked.ends.subarray(2 * s, 2 * s + 2)).toEqual(BALL.ends.subarray(2 * s, 2 * s + 2));
      expect(marked.diameters.subarray(2 * s, 2 * s + 2)).toEqual(BALL.diameters.subarray(2 * s, 2 * s + 2));
    }
    const pieces = [mark.strut, ...Array.from({ length: marked.strutCount - BALL.strutCount }, (_, k) => BALL.strutCount + k)].filter(
      (s) => roleOf(marked, s) === mark.role,
    );
    const length = pieces.reduce((sum, s) => sum + distance(...strutEnds(marked, s)), 0);
    expect(length).toBeCloseTo(distance(...strutEnds(BALL, mark.strut)), 9);
    expect(pieces).toHaveLength(1 + new Set(mark.pins.map(({ atMm }) => atMm)).size);
  });

  it('has one free strut of role mark per pin, at right angles, as long as the record says', () => {
    const axis = strutEnds(BALL, mark.strut);
    const pins = Array.from({ length: marked.strutCount }, (_, s) => s).filter((s) => roleOf(marked, s) === 'mark');
    expect(pins).toHaveLength(mark.pins.length);
    pins.forEach((s, k) => {
      const [foot, tip] = strutEnds(marked, s);
      const { atMm, reachMm, counts } = mark.pins[k];
      expect(distance(foot, axis[0])).toBeCloseTo(atMm, 9);
      expect(toAxis(tip, axis)).toBeCloseTo(reachMm, 9);
      expect(distance(foot, tip)).toBeCloseTo(reachMm, 9);
      const standsOut = reachMm + mark.pinDiameterMm / 2 - BALL.diameters[2 * mark.strut] / 2;
      expect(standsOut).toBeCloseTo(counts === 0 ? mark.longPinLengthMm : mark.pinLengthMm, 9);
    });
  });

  it('keeps a tapered strut tapered', () => {
    const cone = graphOf(
      [
        [40, 0, -10],
        [40, 0, 10],
      ],
      [[0, 1, 4, 3]],
    );
    const split = withMark(cone, markOf(cone, 1));
    for (let s = 0; s < split.strutCount; s++) {
      if (roleOf(split, s) === 'mark') continue;
      strutEnds(split, s).forEach((point, end) => expect(split.diameters[2 * s + end]).toBeCloseTo(4 - (point[2] + 10) / 20, 9));
    }
  });
});

describe('weight of a mark', () => {
  it('on a cylinder is that of pins between their tips and its surface, in closed form', () => {
    const bar = graphOf(
      [
        [40, 0, -15],
        [40, 0, 15],
      ],
      [[0, 1, 3.6]],
    );
    const { pins, pinDiameterMm, extraVolumeMm3 } = markOf(bar, 21);
    const [a, p] = [1.8, pinDiameterMm / 2];
    // Mean depth of the cylinder's surface under the pin's section: integral of sqrt(a^2 - p^2 sin^2) cos^2 over half a turn, exact by equal steps.
    const steps = 64;
    let buried = 0;
    for (let k = 0; k < steps; k++) {
      const angle = (Math.PI * (k + 0.5)) / steps - Math.PI / 2;
      buried += (2 * p * p * Math.cos(angle) ** 2 * Math.sqrt(a * a - (p * Math.sin(angle)) ** 2) * Math.PI) / steps;
    }
    const expected = pins.reduce((sum, { reachMm }) => sum + Math.PI * p * p * reachMm - buried + (2 * Math.PI * p ** 3) / 3, 0);
    expect(extraVolumeMm3).toBeCloseTo(expected, 8);
  });

  it.each([1, 6, 13, 200])('%i agrees with weighing the whole marked ball', (number) => {
    const mark = markOf(BALL, number);
    const whole = massOfGraph(withMark(BALL, mark), MATERIAL.densityGCm3);
    expect(whole.volumeMm3 - PLAIN.volumeMm3).toBeCloseTo(mark.extraVolumeMm3, VOLUMES);
    expect(whole.massG - PLAIN.massG).toBeCloseTo(mark.extraMassG, 9);
    expect(distance(whole.centreOfMassMm, PLAIN.centreOfMassMm)).toBeCloseTo(mark.imbalance.centreOfMassShiftMm, 9);
    expect(Math.hypot(...whole.centreOfMassMm)).toBeCloseTo(mark.imbalance.centreOfMassOffsetMm, 9);
    expect(whole.massG).toBeCloseTo(mark.markedMassG, 9);
    const { radiusMm, unbalanceGMm, centreOfMassShiftMm } = mark.imbalance;
    expect(unbalanceGMm).toBeCloseTo(mark.extraMassG * radiusMm, 12);
    expect(centreOfMassShiftMm * whole.massG).toBeCloseTo(unbalanceGMm, 9);
    // All of the mark on one side, so no plane can make the halves differ by more.
    expect(mark.imbalance.halfMassDifferencePct).toBeCloseTo((100 * (whole.massG - PLAIN.massG)) / whole.massG, 9);
  });
});

describe('place of a mark', () => {
  it('is the inner strut or link nearest the plane z = 0 on which it fits', () => {
    const mark = markOf(BALL, 3);
    expect(mark.role).not.toBe('layer-0');
    const inner = Array.from({ length: BALL.strutCount }, (_, s) => s).filter((s) => roleOf(BALL, s) !== 'layer-0');
    expect(heightOf(BALL, mark.strut)).toBeCloseTo(Math.min(...inner.map((s) => heightOf(BALL, s))), 6);
  });

  it('is on the outer layer only where there is no other, and says so', () => {
    const shell = ballOf({ layers: [{ depthMm: 0, strutDiameterMm: 3.6 }], links: { pattern: 'none' } });
    const mark = markOf(shell, 3);
    expect(mark.role).toBe('layer-0');
    expect(mark.assumptions.join()).toContain('outer layer, as there is no other');
    const tips = withMark(shell, mark).xyz.subarray(3 * shell.nodeCount);
    for (let p = 0; p < tips.length; p += 3) expect(Math.hypot(...tips.subarray(p, p + 3)) + 0.5).toBeLessThan(60);
  });

  it('keeps the pins that far from all other struts (points all over the pins as the second route)', () => {
    const mark = markOf(BALL, 15);
    const axis = strutEnds(BALL, mark.strut);
    const marked = withMark(BALL, mark);
    const a = BALL.diameters[2 * mark.strut] / 2;
    let least = Infinity;
    for (let s = 0; s < marked.strutCount; s++) {
      if (roleOf(marked, s) !== 'mark') continue;
      const [foot, tip] = strutEnds(marked, s);
      for (let i = 0; i <= 40; i++) {
        const point = foot.map((x, k) => x + ((tip[k] - x) * i) / 40);
        if (toAxis(point, axis) < a) continue;
        for (let other = 0; other < BALL.strutCount; other++)
          if (other !== mark.strut) least = Math.min(least, toAxis(point, strutEnds(BALL, other)) - BALL.diameters[2 * other] / 2 - 0.5);
      }
    }
    // Steps of 0.1 mm along a pin miss the nearest point by half a step at most.
    expect(least).toBeGreaterThanOrEqual(mark.leastGapMm! - 1e-9);
    expect(least).toBeLessThan(mark.leastGapMm! + 0.1);
    expect(mark.leastGapMm).toBeGreaterThanOrEqual(MATERIAL.minGapMm);
  });

  it('reads clockwise on four sides, seen along the strut from the long pin', () => {
    // Too short for two places, so the three further digits of 9 = 1 + 8 stand round one place: in line, and to the left.
    const bar = graphOf(
      [
        [40, 0, -2],
        [40, 0, 2],
      ],
      [[0, 1, 3.6]],
    );
    const { pins, strut } = markOf(bar, 9);
    const [from, to] = strutEnds(bar, strut);
    const forward = to.map((x, k) => (x - from[k]) / distance(from, to));
    const [long, one, eight] = pins;
    expect([long.counts, one.counts, eight.counts]).toEqual([0, 1, 8]);
    one.direction.forEach((x, k) => expect(x).toBeCloseTo(long.direction[k], 12));
    const [f, u] = [forward, long.direction];
    // Right is forward x up; left its opposite.
    const left = [u[1] * f[2] - u[2] * f[1], u[2] * f[0] - u[0] * f[2], u[0] * f[1] - u[1] * f[0]];
    eight.direction.forEach((x, k) => expect(x).toBeCloseTo(left[k], 12));
  });

  it('takes thicker pins further apart where the material needs them', () => {
    const coarse = markOf(BALL, 5, { ...MATERIAL, minStrutMm: 1.5, minGapMm: 1.2 });
    expect(coarse).toMatchObject({ pinDiameterMm: 1.5, pitchMm: 2.7 });
    expect(coarse.leastGapMm).toBeGreaterThanOrEqual(1.2);
    const unknown = versionMark(BALL, 5, { minStrutMm: null, minGapMm: null, densityGCm3: 1 }, PLAIN);
    expect(unknown.kind === 'done' && unknown.mark.pitchMm).toBe(2);
  });

  it('is refused where no strut has room, with the length needed and the longest there is', () => {
    const fault = (graph: StrutGraph, number: number) => {
      const outcome = versionMark(graph, number, MATERIAL, PLAIN);
      return outcome.kind === 'fault' ? outcome.fault : null;
    };
    // Two of four-sided places, 2 mm each, and the long pin's 1 mm.
    const short = graphOf(
      [
        [0, 0, 0],
        [4, 0, 0],
      ],
      [[0, 1, 3]],
    );
    expect(fault(short, 16)).toMatchObject({ code: 'no-room-for-mark', details: { number: 16, neededMm: 5, longestMm: 4 } });
    expect(fault(short, 15)).toBeNull();
    for (const number of [0, -1, 1.5, Number.NaN, 2 ** 25]) expect(fault(BALL, number)?.message).toContain('a whole number from 1');
  });
});
