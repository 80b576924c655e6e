import { AXIS, LENGTH, RADIUS, SIDE1, SIDE2, SLOPE, STRIDE } from '../solid/index.ts';

export type Point = readonly [number, number, number];

/** A place on a strut's surface: angle round it, and where it is, mm. */
export interface Place {
  readonly phi: number;
  readonly at: Point;
}

/** Position of a strut's surface at an angle and a place along it. */
export function pointOn(data: Float64Array, strut: number, phi: number, t: number): Point {
  const s = STRIDE * strut;
  const reach = data[s + RADIUS] + data[s + SLOPE] * t;
  const [c, d] = [reach * Math.cos(phi), reach * Math.sin(phi)];
  const along = (k: number) => data[s + k] + t * data[s + AXIS + k] + c * data[s + SIDE1 + k] + d * data[s + SIDE2 + k];
  return [along(0), along(1), along(2)];
}

/** Angle of a place about a strut, and how far along it lies. */
export function placeOn(data: Float64Array, strut: number, at: ArrayLike<number>): { phi: number; t: number } {
  const s = STRIDE * strut;
  const [x, y, z] = [at[0] - data[s], at[1] - data[s + 1], at[2] - data[s + 2]];
  const along = (part: number) => x * data[s + part] + y * data[s + part + 1] + z * data[s + part + 2];
  return { phi: Math.atan2(along(SIDE2), along(SIDE1)), t: along(AXIS) };
}

/** An angle brought into (-pi, pi]. */
export const wrapped = (angle: number): number => angle - 2 * Math.PI * Math.ceil(angle / (2 * Math.PI) - 0.5);

export const distance = (p: ArrayLike<number>, q: ArrayLike<number>): number => Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);

/** Largest radius of a strut, mm. */
export function widest(data: Float64Array, strut: number): number {
  const s = STRIDE * strut;
  return Math.max(data[s + RADIUS], data[s + RADIUS] + data[s + SLOPE] * data[s + LENGTH]);
}
