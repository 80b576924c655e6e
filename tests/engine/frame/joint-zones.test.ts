import { describe, expect, it } from 'vitest';
import { jointRange, jointZones, strutFrame } from '../../../worker/engine/frame/index.ts';
import type { StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { graphOf, turnedGraph } from '../impact/lattices.ts';
import { doubleShell } from '../lattice/samples.ts';

const ELASTIC = { modulusMPa: 60, poisson: 0.45 };
const stiffened = (graph: StrutGraph) => strutFrame(graph, ELASTIC, jointZones(graph)).natural;
const plain = (graph: StrutGraph) => strutFrame(graph, ELASTIC).natural;

/** A node at the origin with straight arms: direction in degrees within z = 0, diameter, length. */
function star(arms: readonly (readonly [number, number, number])[]): StrutGraph {
  const places = [
    [0, 0, 0],
    ...arms.map(([degrees, , length]) => [length * Math.cos((degrees * Math.PI) / 180), length * Math.sin((degrees * Math.PI) / 180), 0]),
  ];
  const graph = graphOf(
    places,
    arms.map((_, k) => [0, k + 1] as const),
    1,
  );
  for (const [k, [, diameter]] of arms.entries()) graph.diameters.fill(diameter, 2 * k, 2 * k + 2);
  graph.nodeRadius.set([Math.max(...arms.map(([, diameter]) => diameter)) / 2, ...arms.map(([, diameter]) => diameter / 2)]);
  return graph;
}

/** Largest relative difference of the stiffness numbers that are not zero, axial, twist and the traces of bending: what axes of the section do not change. */
function difference(a: Float64Array, b: Float64Array): number {
  let largest = 0;
  for (let s = 0; s < a.length; s += 12) {
    for (const read of [
      (n: Float64Array) => n[s],
      (n: Float64Array) => n[s + 1],
      (n: Float64Array) => n[s + 2] + n[s + 6],
      (n: Float64Array) => n[s + 9] + n[s + 11],
    ])
      largest = Math.max(largest, Math.abs(read(a) / read(b) - 1));
  }
  return largest;
}

/** Stiffness of a strut with both ends taken alike: like struts of a lattice may run the other way. */
function inEitherSense(natural: Float64Array, k: number): Float64Array {
  const own = natural.slice(12 * k, 12 * k + 12);
  own[2] += own[6] + own[9] + own[11];
  own.fill(own[2], 3);
  return own;
}

describe('zones of joints', () => {
  it('are none at free ends and where two struts of one diameter run straight on, so that splitting a strut changes nothing', () => {
    const split = graphOf(
      [
        [0, 0, 0],
        [4, 1, 2],
        [8, 2, 4],
      ],
      [
        [0, 1],
        [1, 2],
      ],
      3,
    );
    // The third node lies on the line to rounding only: an angle of 1e-8 leaves a reach of 1e-8 radii.
    expect(difference(stiffened(split), plain(split))).toBeLessThan(1e-6);
  });

  it('grow without a jump as two struts bend, and as one thickens', () => {
    const ends = (change: number) =>
      jointZones(
        star([
          [0, 3, 10],
          [180 + change, 3, 10],
        ]),
      );
    const [before, after] = [ends(1e-4), ends(2e-4)];
    for (const [name, values] of Object.entries(after)) if (name !== 'normal') for (const each of values) expect(each).toBeLessThan(1e-3);
    expect(after.bending[0]).toBeGreaterThanOrEqual(before.bending[0]);
    const thick = (diameter: number) =>
      stiffened(
        star([
          [0, 3, 10],
          [120, diameter, 10],
          [240, 3, 10],
        ]),
      );
    expect(difference(thick(3), thick(3 + 1e-7))).toBeLessThan(1e-3);
    expect(difference(thick(3.3), thick(3.3 + 1e-7))).toBeLessThan(1e-6);
  });

  it('do not know how long the struts are', () => {
    const [short, long] = [8, 30].map((length) =>
      jointZones(
        star([
          [0, 3, length],
          [110, 2.5, length],
          [250, 3.4, length],
        ]),
      ),
    );
    for (const name of ['axial', 'torsion', 'shear', 'bending', 'bendingAcross'] as const)
      for (let k = 0; k < 6; k++) expect(long[name][k]).toBeCloseTo(short[name][k], 12);
  });

  it('are the same wherever the joint is turned, and in its mirror image', () => {
    const ball = doubleShell(2, 1, [40, 30], [4, 3.5, 3]).graph;
    const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
    const turned = turnedGraph(ball, ([x, y, z]) => [c * x - s * z, y, s * x + c * z]);
    const mirrored = turnedGraph(ball, ([x, y, z]) => [x, y, -z]);
    // Rounding of coordinates, grown by roots near zero.
    expect(difference(stiffened(turned), stiffened(ball))).toBeLessThan(1e-6);
    expect(difference(stiffened(mirrored), stiffened(ball))).toBeLessThan(1e-6);
  });

  it('are alike on like struts of a ball', () => {
    const { graph, symmetry } = doubleShell(2, 1, [40, 30], [4, 3.5, 3]);
    const natural = stiffened(graph);
    for (let k = 0; k < graph.strutCount; k++) {
      const like = symmetry!.strutOrbit[k];
      expect(difference(inEitherSense(natural, k), inEitherSense(natural, like))).toBeLessThan(1e-6);
    }
  });

  it('stiffen every strut of a ball, by less than as much again but for the stoutest', () => {
    const ball = doubleShell(2, 0, [90, 75], [3, 2.5, 2.5]).graph;
    const [with_, without] = [stiffened(ball), plain(ball)];
    for (let k = 0; k < ball.strutCount; k++) for (const n of [0, 1, 2, 6]) expect(with_[12 * k + n]).toBeGreaterThan(without[12 * k + n]);
  });
});

describe('the range of the joint model', () => {
  it('is told by its band, and widens for stout struts and sharp joints', () => {
    expect(
      jointRange(
        star([
          [0, 3, 10],
          [120, 3, 10],
          [240, 3, 10],
        ]),
      ),
    ).toEqual({ bandPct: 9, stoutStruts: 0, sharpNodes: 0 });
    expect(
      jointRange(
        star([
          [0, 3, 5],
          [120, 3, 10],
          [240, 3, 10],
        ]),
      ),
    ).toEqual({ bandPct: 18, stoutStruts: 1, sharpNodes: 0 });
    expect(
      jointRange(
        star([
          [0, 3, 10],
          [70, 3, 10],
          [240, 3, 10],
        ]),
      ),
    ).toEqual({ bandPct: 30, stoutStruts: 0, sharpNodes: 1 });
    expect(
      jointRange(
        star([
          [0, 3, 10],
          [75, 3, 10],
          [240, 3, 10],
        ]),
      ).sharpNodes,
    ).toBe(0);
  });
});
