import type { StrutGraph } from '../lattice/index.ts';

export type Vector = readonly [number, number, number];

/** A strut by the distance `at` along its axis from its first node, mm. */
export interface StrutAxis {
  readonly length: number;
  /** Unit vectors: from the first node to the second, and two at right angles to it; right-handed in this order. */
  readonly along: Vector;
  readonly across: Vector;
  readonly up: Vector;
  pointAt(at: number): Vector;
  diameterAt(at: number): number;
}

/** `across` lies on the sphere about the origin through the strut's middle, or level where the strut points to the origin (within 30 degrees). */
export function strutAxis({ xyz, ends, diameters }: StrutGraph, strut: number): StrutAxis {
  const point = (node: number): Vector => [xyz[3 * node], xyz[3 * node + 1], xyz[3 * node + 2]];
  const [first, last] = [point(ends[2 * strut]), point(ends[2 * strut + 1])];
  const [from, to] = [diameters[2 * strut], diameters[2 * strut + 1]];
  const side: Vector = [last[0] - first[0], last[1] - first[1], last[2] - first[2]];
  const length = Math.hypot(...side);
  const along = unit(side);
  const middle: Vector = [first[0] + last[0], first[1] + last[1], first[2] + last[2]];
  const guides: Vector[] = [middle, [0, 0, 1], [1, 0, 0]];
  // The guide that the strut leans away from: its cross product with the strut is at least half as long as itself.
  const guide = guides.find((each) => Math.hypot(...cross(each, along)) > 0.5 * Math.hypot(...each)) ?? guides[2];
  const across = unit(cross(guide, along));
  return {
    length,
    along,
    across,
    up: cross(along, across),
    pointAt: (at) => moved(first, along, at),
    diameterAt: (at) => from + ((to - from) * at) / length,
  };
}

/** The point `distance` from another in a direction. */
export const moved = ([x, y, z]: Vector, [dx, dy, dz]: Vector, distance: number): Vector => [
  x + distance * dx,
  y + distance * dy,
  z + distance * dz,
];

const cross = (a: Vector, b: Vector): Vector => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

function unit(v: Vector): Vector {
  const length = Math.hypot(...v);
  return [v[0] / length, v[1] / length, v[2] / length];
}
