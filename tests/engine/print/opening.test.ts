import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bestPlaneNormal } from '../../../worker/engine/print/best-plane.ts';
import { clearOpenings } from '../../../worker/engine/print/index.ts';
import { inscribedDiameter } from '../../../worker/engine/print/inscribed-circle.ts';
import { CUBE, cageLattice, DODECAHEDRON, type Point, turned } from './samples.ts';

const flat = (points: readonly Point[]) => Float64Array.from(points.flat());
const radii = (n: number, radius: number) => new Float64Array(n).fill(radius);
const regular = (n: number, side: number): Point[] =>
  Array.from({ length: n }, (_, i) => {
    const circumradius = side / (2 * Math.sin(Math.PI / n));
    return [circumradius * Math.cos((2 * Math.PI * i) / n), circumradius * Math.sin((2 * Math.PI * i) / n), 0];
  });

/** A convex ring: points on an ellipse at sorted angles. */
const convexRing = fc
  .tuple(
    fc.uniqueArray(fc.integer({ min: 0, max: 359 }), { minLength: 3, maxLength: 9 }),
    fc.integer({ min: 5, max: 30 }),
    fc.integer({ min: 5, max: 30 }),
  )
  .map(([degrees, a, b]) =>
    degrees.sort((p, q) => p - q).map((angle): Point => [a * Math.cos((angle * Math.PI) / 180), b * Math.sin((angle * Math.PI) / 180), 0]),
  );

/** Independent route: the clearance of a place is concave over a convex ring, so a search inside a search finds its largest value. */
function bruteDiameter(ring: readonly Point[], radius: (i: number) => number): number {
  const clearance = (x: number, y: number) =>
    Math.min(
      ...ring.map(([px, py], i) => {
        const [qx, qy] = ring[(i + 1) % ring.length];
        return ((qx - px) * (y - py) - (qy - py) * (x - px)) / Math.hypot(qx - px, qy - py) - radius(i);
      }),
    );
  const largest = (f: (x: number) => number) => {
    let [low, high] = [-40, 40];
    for (let step = 0; step < 120; step++) {
      const [p, q] = [low + (high - low) / 3, high - (high - low) / 3];
      if (f(p) > f(q)) high = q;
      else low = p;
    }
    return f((low + high) / 2);
  };
  return Math.max(0, 2 * largest((x) => largest((y) => clearance(x, y))));
}

describe('largest circle in a ring of struts', () => {
  it('of a regular ring is its size across flats less the strut diameter', () => {
    for (const n of [3, 4, 5, 6, 7, 12]) {
      expect(inscribedDiameter(flat(regular(n, 10)), radii(n, 1.5))).toBeCloseTo(10 / Math.tan(Math.PI / n) - 3, 12);
    }
    expect(inscribedDiameter(flat(regular(6, 10)), radii(6, 0))).toBeCloseTo(10 * Math.sqrt(3), 12);
  });

  it('of the 3-4-5 triangle has diameter 2; of a rectangle its short side; of a long trapezoid what its legs leave', () => {
    const triangle: Point[] = [
      [0, 0, 0],
      [4, 0, 0],
      [0, 3, 0],
    ];
    expect(inscribedDiameter(flat(triangle), radii(3, 0))).toBeCloseTo(2, 12);
    const rectangle: Point[] = [
      [0, 0, 0],
      [9, 0, 0],
      [9, 4, 0],
      [0, 4, 0],
    ];
    expect(inscribedDiameter(flat(rectangle), radii(4, 0.5))).toBeCloseTo(3, 12);
    // Unequal struts along the long sides: 4 - 1.2 - 0.3; those along the short sides are too far away to matter.
    expect(inscribedDiameter(flat(rectangle), Float64Array.of(1.2, 2, 0.3, 2))).toBeCloseTo(2.5, 12);
  });

  it('agrees with a search for the centre, each edge with its own radius', () => {
    fc.assert(
      fc.property(convexRing, fc.infiniteStream(fc.integer({ min: 0, max: 40 })), (ring, stream) => {
        const edge = Float64Array.from(ring, () => stream.next().value / 40);
        // The search over 80 mm narrows to 1e-19 of it; the nested flat tops cost digits.
        expect(inscribedDiameter(flat(ring), edge)).toBeCloseTo(
          bruteDiameter(ring, (i) => edge[i]),
          6,
        );
      }),
      { numRuns: 60, seed: 5 },
    );
  });

  it('is the same turned and mirrored, grows with the ring, and shrinks with its struts', () => {
    fc.assert(
      fc.property(convexRing, fc.double({ min: 0, max: 6, noNaN: true }), (ring, angle) => {
        const diameter = inscribedDiameter(flat(ring), radii(ring.length, 0.3));
        expect(inscribedDiameter(flat(turned(ring, angle, 1.7 * angle)), radii(ring.length, 0.3))).toBeCloseTo(diameter, 9);
        expect(inscribedDiameter(flat([...ring].reverse()), radii(ring.length, 0.3))).toBeCloseTo(diameter, 9);
        const larger = ring.map(([x, y, z]): Point => [2 * x, 2 * y, 2 * z]);
        expect(inscribedDiameter(flat(larger), radii(ring.length, 0.6))).toBeCloseTo(2 * diameter, 9);
        expect(inscribedDiameter(flat(ring), radii(ring.length, 0.4))).toBeLessThanOrEqual(diameter);
      }),
      { seed: 6 },
    );
  });

  it('is 0 where the struts leave nothing', () => {
    expect(inscribedDiameter(flat(regular(6, 2)), radii(6, 2))).toBe(0);
  });

  it('lies in the best-fit plane of a ring that is not flat', () => {
    // Corners alternately above and below z = 0: the plane is z = 0 by symmetry, and the projection is the regular hexagon.
    const puckered = regular(6, 10).map(([x, y], i): Point => [x, y, i % 2 === 0 ? 1 : -1]);
    expect(inscribedDiameter(flat(puckered), radii(6, 1))).toBeCloseTo(10 * Math.sqrt(3) - 2, 9);
    expect(inscribedDiameter(flat(turned(puckered, 1, 2)), radii(6, 1))).toBeCloseTo(10 * Math.sqrt(3) - 2, 9);
  });
});

describe('best-fit plane of a ring', () => {
  const height = fc.integer({ min: -200, max: 200 }).map((percent) => percent / 100);
  const uneven = fc
    .tuple(convexRing, fc.array(height, { minLength: 9, maxLength: 9 }), fc.double({ min: 0, max: 6, noNaN: true }))
    .map(([ring, heights, angle]) =>
      turned(
        ring.map(([x, y], i): Point => [x, y, heights[i]]),
        angle,
        2 * angle,
      ),
    );
  const spread = (points: readonly Point[], n: Point) => {
    const along = points.map((p) => p[0] * n[0] + p[1] * n[1] + p[2] * n[2]);
    const mean = along.reduce((a, b) => a + b, 0) / along.length;
    return along.reduce((sum, each) => sum + (each - mean) ** 2, 0);
  };

  it('has the least sum of squared distances: tilting it any way by a thousandth makes it larger', () => {
    fc.assert(
      fc.property(uneven, (ring) => {
        // Rings that are nearly a line have no plane to speak of.
        fc.pre(inscribedDiameter(flat(ring), radii(ring.length, 0)) > 4);
        const normal = bestPlaneNormal(flat(ring));
        expect(Math.hypot(...normal)).toBeCloseTo(1, 12);
        for (let i = 0; i < 6; i++) {
          const tilted = normal.map((each, axis) => each + (axis === i % 3 ? (i < 3 ? 1e-3 : -1e-3) : 0));
          const length = Math.hypot(...tilted);
          const other = tilted.map((each) => each / length) as [number, number, number];
          // The sums are of some hundred mm2 at most, so their rounding stays below 1e-12.
          expect(spread(ring, normal)).toBeLessThanOrEqual(spread(ring, other) + 1e-12);
        }
      }),
      { seed: 12 },
    );
  });

  it('is the plane of a flat ring, on the side from which it runs counter-clockwise', () => {
    expect(bestPlaneNormal(flat(regular(6, 10)))[2]).toBeCloseTo(1, 12);
    expect(bestPlaneNormal(flat([...regular(5, 10)].reverse()))[2]).toBeCloseTo(-1, 12);
  });
});

describe('openings of a lattice', () => {
  it('of a cube cage are its side less the struts, in every layer', () => {
    const { cells, sides } = clearOpenings(cageLattice(CUBE, { scales: [10, 6], diameters: [2, 1], postDiameter: 3 }));
    expect(cells).toHaveLength(2);
    for (const opening of cells[0]) expect(opening).toBeCloseTo(20 - 2, 12);
    for (const opening of cells[1]) expect(opening).toBeCloseTo(12 - 1, 12);
    // Trapezoid between edges of 20 and 12 mm, 4 sqrt(2) mm apart, under struts of 2 and 1 mm: the legs are too far away to matter.
    expect(sides).toHaveLength(1);
    expect(sides[0]).toHaveLength(12);
    for (const opening of sides[0]) expect(opening).toBeCloseTo(4 * Math.SQRT2 - 1.5, 12);
  });

  it('of a dodecahedron follow the pentagon formula', () => {
    const { cells, sides } = clearOpenings(cageLattice(DODECAHEDRON, { scales: [20], diameters: [2] }));
    const side = (20 * 2) / ((1 + Math.sqrt(5)) / 2);
    expect(cells[0]).toHaveLength(12);
    for (const opening of cells[0]) expect(opening).toBeCloseTo(side / Math.tan(Math.PI / 5) - 2, 12);
    expect(sides).toEqual([]);
  });
});
