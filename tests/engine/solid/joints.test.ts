import { describe, expect, it } from 'vitest';
import type { Point } from '../print/samples.ts';
import { momentsApart, momentsOf, moved, random, rotation, split, star, volumeOf, wideDirections } from './samples.ts';

const X: Point = [1, 0, 0];
const Y: Point = [0, 1, 0];
const Z: Point = [0, 0, 1];
const minus = ([x, y, z]: Point): Point => [-x, -y, -z];
/** Whole struts through one node, as pairs of halves of the same length. */
const through = (axes: readonly Point[], radii: readonly number[], length: number) =>
  star(axes.flatMap((axis, k) => [axis, minus(axis)].map((direction) => ({ direction, length, diameter: 2 * radii[k] }))));
const capsule = (r: number, length: number) => Math.PI * r * r * length + (4 / 3) * Math.PI * r ** 3;
/** Turned so that nothing lies along an axis of coordinates. */
const askew = { turn: rotation([0.6, 0, 0.8], 1.1), shift: [3, -2, 5] as Point, scale: 1 };
/** Closed forms against a quadrature that converges to rounding. */
const ROUNDING = 1e-11;

describe('struts that cross at a node', () => {
  it('two of one radius overlap by 16/3 r^3 / sin(angle) (Steinmetz solid; Hubbell 1965 for the angle)', () => {
    for (const angle of [Math.PI / 2, 1.2, 0.8, 0.5]) {
      for (const r of [0.5, 1.5]) {
        const graph = moved(through([X, [Math.cos(angle), Math.sin(angle), 0]], [r, r], 12), askew);
        const expected = 2 * capsule(r, 24) - (16 / 3) * (r ** 3 / Math.sin(angle));
        expect(Math.abs(volumeOf(graph) / expected - 1)).toBeLessThan(ROUNDING);
      }
    }
  });

  it('three of one radius at right angles overlap by 3 * 16/3 r^3 less 8 (2 - sqrt 2) r^3 (tricylinder; Moore 1974)', () => {
    const r = 1.3;
    const expected = 3 * capsule(r, 16) - 16 * r ** 3 + 8 * (2 - Math.SQRT2) * r ** 3;
    expect(Math.abs(volumeOf(moved(through([X, Y, Z], [r, r, r], 8), askew)) / expected - 1)).toBeLessThan(ROUNDING);
  });

  it('two of different radii overlap by 8/sin(angle) times the integral of sqrt(a^2 - x^2) sqrt(b^2 - x^2) (Hubbell 1965)', () => {
    for (const [a, b, angle] of [
      [1, 1.5, Math.PI / 2],
      [0.5, 2, Math.PI / 2],
      [1.4, 1.5, 1],
      [0.3, 1, 0.7],
    ]) {
      const graph = moved(through([X, [Math.cos(angle), Math.sin(angle), 0]], [a, b], 14), askew);
      const expected = capsule(a, 28) + capsule(b, 28) - commonVolume(a, b) / Math.sin(angle);
      expect(Math.abs(volumeOf(graph) / expected - 1)).toBeLessThan(ROUNDING);
    }
  });
});

/** Volume within two cylinders of radii a <= b at right angles: x = a sin t makes the integrand smooth and periodic, so the plain sum converges to rounding. */
function commonVolume(a: number, b: number): number {
  const points = 4000;
  let sum = 0;
  for (let k = 0; k < points; k++) {
    const t = (2 * Math.PI * (k + 0.5)) / points;
    sum += (a * Math.cos(t)) ** 2 * Math.sqrt(b * b - (a * Math.sin(t)) ** 2);
  }
  return (8 * sum * (Math.PI / 2)) / points;
}

describe('a bend', () => {
  it('of two struts loses the wedge 4/3 r^3 tan(b/2) inside and gains a lune 2/3 b r^3 of the node sphere outside', () => {
    const [r, length] = [1.2, 9];
    for (const bend of [0.01, 0.3, 0.9, Math.PI / 2, 2, 2.5]) {
      const graph = star(
        [minus(X), [Math.cos(bend), Math.sin(bend), 0] as Point].map((direction) => ({ direction, length, diameter: 2 * r })),
      );
      const straight = capsule(r, 2 * length);
      const expected = straight - (4 / 3) * r ** 3 * Math.tan(bend / 2) + (2 / 3) * bend * r ** 3;
      expect(Math.abs(volumeOf(moved(graph, askew)) / expected - 1), `bend ${bend}`).toBeLessThan(ROUNDING);
    }
  });

  it('straightened becomes one strut: the wedge and the lune vanish together', () => {
    const [r, length] = [1.2, 9];
    const bent = (bend: number) =>
      volumeOf(star([minus(X), [Math.cos(bend), Math.sin(bend), 0] as Point].map((direction) => ({ direction, length, diameter: 2 * r }))));
    for (const bend of [1e-3, 1e-5, 1e-7, 0]) {
      // 4/3 tan(b/2) - 2/3 b is b^3/18 for small bends: nothing of the strut is left or counted twice
      expect(Math.abs(bent(bend) / capsule(r, 2 * length) - 1)).toBeLessThan(bend ** 3 + ROUNDING);
    }
  });
});

describe('splitting a strut', () => {
  it('into two halves in one line changes nothing', () => {
    const whole = star([{ direction: X, length: 10, diameter: 3 }]);
    // a split adds no surface: only the rounding of sums remains
    expect(momentsApart(momentsOf(whole), momentsOf(split(whole, () => [0.5])))).toBeLessThan(1e-13);
  });

  it('of any star, into unequal pieces, one shorter than a tenth of its radius, changes nothing', () => {
    const next = random(3);
    for (let trial = 0; trial < 30; trial++) {
      const count = 2 + (trial % 3);
      const arms = wideDirections(next, count).map((direction) => ({ direction, length: 6 + 4 * next(), diameter: 0.8 + 1.4 * next() }));
      const graph = moved(star(arms), askew);
      const pieces = split(graph, () => [0.5 + 0.1 * next(), 0.7 + 0.1 * next(), 0.99]);
      // other pieces, other nodes of the quadrature: both are good to 1e-9
      expect(momentsApart(momentsOf(graph), momentsOf(pieces)), `trial ${trial}`).toBeLessThan(2e-9);
    }
  });
});
