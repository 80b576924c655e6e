import { describe, expect, it } from 'vitest';
import { meanWidth } from '../../../worker/engine/solid/index.ts';
import { CUBE, DODECAHEDRON, graphOf, type Point } from '../print/samples.ts';
import { anyDirection, random } from './samples.ts';

const PHI = (1 + Math.sqrt(5)) / 2;
const ICOSAHEDRON = [-1, 1].flatMap((s) =>
  [-PHI, PHI].flatMap((t): Point[] => [
    [0, s, t],
    [t, 0, s],
    [s, t, 0],
  ]),
);
/** Equal balls at the corners of a solid, joined in a ring so that every node has its radius. */
const balls = (corners: readonly Point[], diameter: number) =>
  graphOf(
    corners,
    corners.map((_, v) => [v, (v + 1) % corners.length, diameter] as const),
  );
/** Closed forms of polyhedra: edges * length * (pi - dihedral angle) / (4 pi) (Santalo 1976). */
const polyhedron = (edges: number, length: number, dihedral: number) => (edges * length * (Math.PI - dihedral)) / (4 * Math.PI);

describe('mean caliper width', () => {
  it.each([
    ['a cube', CUBE.corners, polyhedron(12, 2, Math.PI / 2)],
    ['a dodecahedron', DODECAHEDRON.corners, polyhedron(30, 2 / PHI, Math.acos(-1 / Math.sqrt(5)))],
    ['an icosahedron', ICOSAHEDRON, polyhedron(30, 2, Math.acos(-Math.sqrt(5) / 3))],
  ])('of %s with balls at its corners is the closed form plus their diameter', (_, corners, expected) => {
    for (const [scale, diameter] of [
      [1, 0.5],
      [40, 3],
    ]) {
      const points = corners.map(([x, y, z]): Point => [scale * x, scale * y, scale * z]);
      // angles between coplanar triangles are the square root of rounding
      expect(Math.abs(meanWidth(balls(points, diameter), points.length) - scale * expected - diameter)).toBeLessThan(1e-7 * scale);
    }
    // a cube's mean width is 3/2 of its side
    if (corners === CUBE.corners) expect(expected).toBeCloseTo(3, 12);
  });

  it('of many points on a sphere nears its diameter from below', () => {
    const next = random(9);
    let before = 0;
    for (const count of [50, 500, 5000]) {
      const points = Array.from({ length: count }, (): Point => anyDirection(next).map((x) => 30 * x) as unknown as Point);
      const width = meanWidth(balls(points, 2), count);
      expect(width).toBeLessThan(62);
      expect(width).toBeGreaterThan(before);
      before = width;
    }
    // the hull of N points misses the sphere by about 4 pi / (3 sqrt 3 N) of the radius: a part in 2 000 here
    expect(before).toBeGreaterThan(62 * (1 - 2e-3));
  });

  it('is the average of the widths in many directions', () => {
    const next = random(10);
    const points = Array.from({ length: 40 }, (): Point => anyDirection(next).map((x) => 10 * x) as unknown as Point);
    let sum = 0;
    const directions = 40_000;
    for (let k = 0; k < directions; k++) {
      const z = (k + 0.5) / directions;
      const [r, angle] = [Math.sqrt(1 - z * z), k * Math.PI * (3 - Math.sqrt(5))];
      const along = points.map((p) => p[0] * r * Math.cos(angle) + p[1] * r * Math.sin(angle) + p[2] * z);
      sum += Math.max(...along) - Math.min(...along) + 1;
    }
    // 40 000 even directions over a function with kinks: the mean is good to about 1e-6
    expect(Math.abs(sum / directions / meanWidth(balls(points, 1), 40) - 1)).toBeLessThan(1e-5);
  });

  it('counts the nodes that are asked for only', () => {
    const inner = DODECAHEDRON.corners.map(([x, y, z]): Point => [x / 2, y / 2, z / 2]);
    const both = balls([...DODECAHEDRON.corners, ...inner], 0.3);
    expect(meanWidth(both, 20)).toBe(meanWidth(balls(DODECAHEDRON.corners, 0.3), 20));
  });
});
