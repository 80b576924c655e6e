import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { buildLattice, type Lattice } from '../../../worker/engine/lattice/index.ts';
import { type GapOutcome, smallestGap } from '../../../worker/engine/print/index.ts';
import { goldberg } from '../../../worker/engine/tiling/index.ts';
import { CUBE, cageLattice, graphOf, type Point, type Strut, turned } from './samples.ts';

/** Coordinates of some tens of mm carry 1e-14 mm of rounding; the golden section adds 1e-9 of a strut's length. */
const ROUNDING = 1e-9;

const clear = (outcome: GapOutcome) => {
  if (outcome.kind !== 'clear') throw new Error(outcome.fault.message);
  return outcome;
};
const gapOf = (graph: StrutGraph) => clear(smallestGap(graph, null, 0)).smallest!.gapMm;
const pair = (points: Point[], d: number, e = d) => graphOf(points, [[0, 1, d] as Strut, [2, 3, e] as Strut]);

/** Independent route: the smallest of distance less radii over both struts, by ternary search inside a ternary search (it is convex). */
function bruteGap(graph: StrutGraph, a: number, b: number): number {
  const { xyz, ends, diameters } = graph;
  const place = (k: number, s: number, i: number) => (1 - s) * xyz[3 * ends[2 * k] + i] + s * xyz[3 * ends[2 * k + 1] + i];
  const radius = (k: number, s: number) => ((1 - s) * diameters[2 * k] + s * diameters[2 * k + 1]) / 2;
  const apart = (s: number, t: number, i: number) => (place(a, s, i) - place(b, t, i)) ** 2;
  const between = (s: number, t: number) => Math.sqrt(apart(s, t, 0) + apart(s, t, 1) + apart(s, t, 2)) - radius(a, s) - radius(b, t);
  return ternary((s) => ternary((t) => between(s, t)));
}

/** Least value of a convex function on [0, 1]; 60 thirds leave 3e-11 of the interval. */
function ternary(f: (x: number) => number): number {
  let [low, high] = [0, 1];
  for (let step = 0; step < 60; step++) {
    const [p, q] = [low + (high - low) / 3, high - (high - low) / 3];
    if (f(p) < f(q)) high = q;
    else low = p;
  }
  return Math.min(f(low), f(0), f(1));
}

const coordinate = fc.integer({ min: -200, max: 200 }).map((tenths) => tenths / 10);
const point = fc.tuple(coordinate, coordinate, coordinate);
/** Loose struts: none share a node. */
const loose = (taper: boolean) =>
  fc
    .array(fc.tuple(point, point, fc.integer({ min: 1, max: 9 }), fc.integer({ min: 1, max: 9 })), { minLength: 2, maxLength: 7 })
    .map((rows) =>
      graphOf(
        rows.flatMap((row) => [row[0], row[1]]),
        rows.map(([, , d, e], k): Strut => [2 * k, 2 * k + 1, d / 100, (taper ? e : d) / 100]),
      ),
    );

describe('smallest gap between struts that share no node', () => {
  it('equals the closed forms for parallel, crossing, skew and in-line cylinders', () => {
    const along: Point[] = [
      [0, 0, 0],
      [10, 0, 0],
    ];
    expect(gapOf(pair([...along, [2, 5, 0], [8, 5, 0]], 2))).toBeCloseTo(3, 12);
    expect(gapOf(pair([...along, [5, -5, 4], [5, 5, 4]], 2, 1))).toBeCloseTo(2.5, 12);
    expect(gapOf(pair([...along, [13, 4, -7], [13, 4, 7]], 2))).toBeCloseTo(3, 12);
    expect(gapOf(pair([...along, [16, 0, 0], [20, 0, 0]], 2))).toBeCloseTo(4, 12);
    // Skew lines at 45 degrees in parallel planes 6 mm apart, nearest inside both.
    expect(gapOf(pair([...along, [2, -3, 6], [8, 3, 6]], 1))).toBeCloseTo(5, 12);
  });

  it('takes the thicker end of a tapered strut where it is nearest', () => {
    const graph = graphOf(
      [
        [0, 0, 0],
        [10, 0, 0],
        [12, -5, 0],
        [12, 5, 0],
      ],
      [
        [0, 1, 1, 3],
        [2, 3, 1],
      ],
    );
    expect(gapOf(graph)).toBeCloseTo(2 - 1.5 - 0.5, 9);
  });

  it('agrees with a search over all pairs, for cylinders and for tapered struts', () => {
    const law = (taper: boolean) =>
      fc.property(loose(taper), (graph) => {
        const outcome = smallestGap(graph, null, 0);
        const gaps: number[] = [];
        for (let a = 0; a < graph.strutCount; a++) for (let b = a + 1; b < graph.strutCount; b++) gaps.push(bruteGap(graph, a, b));
        const least = Math.min(...gaps);
        if (outcome.kind === 'clear') expect(outcome.smallest!.gapMm).toBeCloseTo(least, 7);
        else expect(outcome.fault.details.overlapMm).toBeCloseTo(-least, 7);
      });
    fc.assert(law(false), { numRuns: 25, seed: 1 });
    fc.assert(law(true), { numRuns: 15, seed: 2 });
  });

  it('does not change when the whole is turned', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(point, point), { minLength: 2, maxLength: 10 }),
        fc.double({ min: 0, max: 6, noNaN: true }),
        (rows, angle) => {
          const struts = rows.map((_, k): Strut => [2 * k, 2 * k + 1, 0.01]);
          const [before, after] = [rows.flat(), turned(rows.flat(), angle, 2 * angle)].map((points) =>
            smallestGap(graphOf(points, struts), null, 0),
          );
          fc.pre(before.kind === 'clear' && after.kind === 'clear');
          expect(Math.abs(clear(after).smallest!.gapMm - clear(before).smallest!.gapMm)).toBeLessThan(ROUNDING);
        },
      ),
      { seed: 3 },
    );
  });

  it('shrinks by as much as the struts grow', () => {
    const cage = (d: number) => clear(smallestGap(cageLattice(CUBE, { scales: [10], diameters: [d] }).graph, null, 0)).smallest!.gapMm;
    expect(cage(2)).toBeCloseTo(20 - 2, 12);
    expect(cage(5)).toBeCloseTo(20 - 5, 12);
  });

  it('ignores struts that share a node, and counts struts at the two ends of a short one', () => {
    const points: Point[] = [
      [0, 0, 0],
      [2, 0, 0],
      [-3, 9, 0],
      [5, 9, 0],
    ];
    const open: Strut[] = [
      [0, 1, 1],
      [0, 2, 1],
      [1, 3, 1],
    ];
    const found = clear(smallestGap(graphOf(points, open), null, 0));
    expect(found.smallest).toEqual({ a: 1, b: 2, gapMm: 1 });
    const star = graphOf(points, [
      [0, 1, 1],
      [0, 2, 1],
      [0, 3, 1],
    ]);
    expect(clear(smallestGap(star, null, 5)).smallest).toBeNull();
    expect(clear(smallestGap(graphOf([], []), null, 5)).smallest).toBeNull();
  });
});

describe('struts that do not meet but intersect', () => {
  const crossing = (height: number) =>
    smallestGap(
      pair(
        [
          [-5, 0, 0],
          [5, 0, 0],
          [0, -5, height],
          [0, 5, height],
        ],
        3,
        1,
      ),
      null,
      1,
    );

  it('are a typed fault with the pair, the distance and both radii', () => {
    const outcome = crossing(1.5);
    expect(outcome).toMatchObject({ kind: 'fault', fault: { code: 'struts-intersect', details: { struts: [0, 1], radiiMm: [1.5, 0.5] } } });
    if (outcome.kind !== 'fault') return;
    expect(outcome.fault.details.distanceMm).toBeCloseTo(1.5, 12);
    expect(outcome.fault.details.overlapMm).toBeCloseTo(0.5, 12);
    expect(outcome.fault.message).toContain('within 1.5 mm, allowed: at least 2 mm');
  });

  it('are none when they only touch', () => {
    expect(crossing(2)).toMatchObject({ kind: 'clear' });
    expect(crossing(2 - 1e-6)).toMatchObject({ kind: 'fault' });
  });
});

describe('pairs below a limit', () => {
  it('are all found, the worst first', () => {
    fc.assert(
      fc.property(loose(false), fc.integer({ min: 1, max: 15 }), (graph, limit) => {
        const outcome = smallestGap(graph, null, limit);
        fc.pre(outcome.kind === 'clear');
        const expected: number[] = [];
        for (let a = 0; a < graph.strutCount; a++)
          for (let b = a + 1; b < graph.strutCount; b++) if (bruteGap(graph, a, b) < limit) expected.push(bruteGap(graph, a, b));
        const found = clear(outcome).close.map(({ gapMm }) => gapMm);
        expect(found.length).toBe(Math.min(50, expected.length));
        expected.sort((p, q) => p - q);
        for (const [i, gap] of found.entries()) expect(gap).toBeCloseTo(expected[i], 7);
      }),
      { numRuns: 20, seed: 4 },
    );
  });

  it('are found across many boxes of the grid', () => {
    // 24 short struts in a cube of 40 mm: boxes of about 9 mm, so that a limit of 12 mm reaches beyond the neighbouring ones.
    const rows = fc.sample(
      fc.tuple(point, fc.tuple(fc.double({ min: 0.1, max: 1, noNaN: true }), fc.double({ min: 0.1, max: 1, noNaN: true }))),
      {
        numRuns: 24,
        seed: 9,
      },
    );
    const graph = graphOf(
      rows.flatMap(([[x, y, z], [dx, dy]]): Point[] => [
        [x, y, z],
        [x + dx, y + dy, z],
      ]),
      rows.map((_, k): Strut => [2 * k, 2 * k + 1, 0.01]),
    );
    const limit = 12;
    let expected = 0;
    for (let a = 0; a < 24; a++) for (let b = a + 1; b < 24; b++) if (bruteGap(graph, a, b) < limit) expected++;
    expect(expected).toBeGreaterThan(20);
    expect(expected).toBeLessThan(50);
    expect(clear(smallestGap(graph, null, limit)).close).toHaveLength(expected);
  });

  it('stop at fifty', () => {
    const rows = Array.from({ length: 15 }, (_, k): Point[] => [
      [k, 0, 0],
      [k, 10, 0],
    ]);
    const graph = graphOf(
      rows.flat(),
      rows.map((_, k): Strut => [2 * k, 2 * k + 1, 0.5]),
    );
    const { close } = clear(smallestGap(graph, null, 100));
    expect(close).toHaveLength(50);
    expect(close.filter(({ gapMm }) => Math.abs(gapMm - 0.5) < ROUNDING)).toHaveLength(14);
  });
});

describe('symmetry', () => {
  it('gives the gap of the whole from one strut of each orbit', () => {
    // Thick posts in the last two: there the nearest struts are images of each other.
    for (const [m, n, post] of [
      [2, 0, 3],
      [1, 1, 3],
      [2, 1, 3],
      [1, 0, 8],
      [1, 1, 8],
    ]) {
      const set = {
        carrier: { shape: 'sphere', outsideDiameterMm: 160 },
        tiling: { kind: 'goldberg', m, n, relaxation: 'none', orientation: 'pentagon-up' },
        layers: [
          { depthMm: 0, strutDiameterMm: 4 },
          { depthMm: 40, strutDiameterMm: 3.5 },
        ],
        links: { pattern: 'posts', strutDiameterMm: post },
      } as const;
      const lattice = buildLattice(set, goldberg(m, n)) as Lattice;
      const [part, whole] = [lattice.symmetry, null].map((symmetry) => clear(smallestGap(lattice.graph, symmetry, 0)).smallest!.gapMm);
      expect(Math.abs(part - whole)).toBeLessThan(ROUNDING);
    }
  });
});
