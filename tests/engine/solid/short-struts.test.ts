import { describe, expect, it } from 'vitest';
import { massOfGraph } from '../../../worker/engine/index.ts';
import type { StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { graphOf, type Point } from '../print/samples.ts';
import { bar, moved, rotation, split, star, volumeOf } from './samples.ts';

/** Struts so short, or so close, that the sphere at one end reaches past the neighbours of the other. */
const ball = (r: number) => (4 / 3) * Math.PI * r ** 3;
const capsule = (r: number, length: number) => Math.PI * r * r * length + ball(r);
/** Two balls whose centres are d apart share a lens (textbook). */
const lens = (a: number, b: number, d: number) => (Math.PI * (a + b - d) ** 2 * (d * d + 2 * d * (a + b) - 3 * (a - b) ** 2)) / (12 * d);
const askew = { turn: rotation([0.48, 0.6, 0.64], 0.9), shift: [1, 2, -3] as Point, scale: 1 };
const apart = (graph: StrutGraph, expected: number) => Math.abs(volumeOf(moved(graph, askew)) / expected - 1);

describe('a short strut', () => {
  it('whose larger sphere swallows its cone is two balls less their lens', () => {
    expect(apart(bar([0, 0, 0], [0, 0, 0.9], 4, 2.8), ball(2) + ball(1.4) - lens(2, 1.4, 0.9))).toBeLessThan(1e-12);
  });

  it('whose larger sphere swallows it whole is that ball', () => {
    expect(apart(bar([0, 0, 0], [0, 0, 0.5], 4, 2.8), ball(2))).toBeLessThan(1e-12);
  });

  it('in line with its neighbours changes nothing, however short', () => {
    const whole = bar([0, 0, 0], [10, 0, 0], 3);
    expect(
      apart(
        split(whole, () => [0.5, 0.501, 0.56]),
        capsule(1.5, 10),
      ),
    ).toBeLessThan(1e-11);
  });

  it('hides the part of a thin neighbour that its far sphere reaches', () => {
    // a thick strut of length 1 upwards; a thin one from its foot, rising at 45 degrees, is buried in the ball at the top up to where they part
    const [thick, thin] = [4, 0.2];
    const direction: Point = [Math.SQRT1_2, 0, Math.SQRT1_2];
    const graph = star([
      { direction: [0, 0, 1], length: 1, diameter: 2 * thick },
      { direction, length: 12, diameter: 2 * thin },
    ]);
    // the thin one leaves the upper ball, at an angle: its axis meets the ball near s, and the volume outside is a plain integral over its section
    const outside = outsideBall([0, 0, 1], thick, direction, thin, 12);
    expect(apart(graph, capsule(thick, 1) + outside + ball(thin) / 2)).toBeLessThan(1e-8);
  });
});

/** Volume of a cylinder from the origin along u, of radius r and the given length, beyond a ball that its every line leaves once; polar midpoints. */
function outsideBall(centre: Point, R: number, u: Point, r: number, length: number): number {
  const side: Point = [0, 1, 0];
  const other: Point = [u[1] * side[2] - u[2] * side[1], u[2] * side[0] - u[0] * side[2], u[0] * side[1] - u[1] * side[0]];
  const [rings, spokes] = [200, 200];
  let sum = 0;
  for (let i = 0; i < rings; i++) {
    for (let k = 0; k < spokes; k++) {
      const rho = r * Math.sqrt((i + 0.5) / rings);
      const angle = (2 * Math.PI * (k + 0.5)) / spokes;
      const p = [0, 1, 2].map((j) => rho * (Math.cos(angle) * side[j] + Math.sin(angle) * other[j]) - centre[j]);
      const b = p.reduce((total, x, j) => total + x * u[j], 0);
      const c = p.reduce((total, x) => total + x * x, 0) - R * R;
      sum += length - (-b + Math.sqrt(b * b - c));
    }
  }
  return (Math.PI * r * r * sum) / (rings * spokes);
}

describe('struts that overlap without a common node', () => {
  const cross = (angle: number, [a, b]: readonly [number, number], shift = 0) =>
    graphOf(
      [
        [-10, 0, 0],
        [10, 0, 0],
        [-10 * Math.cos(angle), -10 * Math.sin(angle), shift],
        [10 * Math.cos(angle), 10 * Math.sin(angle), shift],
      ],
      [
        [0, 1, 2 * a],
        [2, 3, 2 * b],
      ],
    );
  const massOf = (graph: StrutGraph) => massOfGraph(moved(graph, askew), 1).volumeMm3;

  it('crossing in their middles weigh what they weigh with a node there', () => {
    for (const angle of [Math.PI / 2, 0.7]) {
      const expected = 2 * capsule(1.5, 20) - (16 / 3) * (1.5 ** 3 / Math.sin(angle));
      expect(Math.abs(massOf(cross(angle, [1.5, 1.5])) / expected - 1)).toBeLessThan(1e-11);
    }
  });

  it('on one line, only their round ends overlapping, lose one lens', () => {
    const graph = graphOf(
      [
        [-8, 0, 0],
        [-1, 0, 0],
        [1, 0, 0],
        [9, 0, 0],
      ],
      [
        [0, 1, 3],
        [2, 3, 4],
      ],
    );
    expect(Math.abs(massOf(graph) / (capsule(1.5, 7) + capsule(2, 8) - lens(1.5, 2, 2)) - 1)).toBeLessThan(1e-7);
  });

  it('on one line, one end within the other strut, are one strut', () => {
    const graph = graphOf(
      [
        [-8, 0, 0],
        [2, 0, 0],
        [0, 0, 0],
        [9, 0, 0],
      ],
      [
        [0, 1, 3],
        [2, 3, 3],
      ],
    );
    expect(Math.abs(massOf(graph) / capsule(1.5, 17) - 1)).toBeLessThan(1e-7);
  });

  it('one listed twice is that strut once', () => {
    const graph = graphOf(
      [
        [0, 0, 0],
        [10, 0, 0],
      ],
      [
        [0, 1, 3],
        [1, 0, 3],
      ],
    );
    expect(Math.abs(massOf(graph) / capsule(1.5, 10) - 1)).toBeLessThan(1e-11);
  });
});
