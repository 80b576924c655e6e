import type { StrutGraph } from '../lattice/index.ts';
import { AXIS, type Frames, LENGTH, RADIUS, SLOPE, STRIDE } from '../solid/index.ts';

/** A strut that goes straight on where another ends, both as wide there as the node's sphere. */
export interface Opposite {
  readonly strut: number;
  /** Neither grows thinner on its way from the node, so nothing of the sphere shows between the two. */
  readonly seamless: boolean;
}

/** The opposite of a strut at one of its ends (2 * strut + end). */
export function oppositeOf(graph: StrutGraph, { at, data, nodeRadius }: Frames, end: number, weldMm: number): Opposite | null {
  const node = graph.ends[end];
  const [radius, ...axis] = heading(data, end);
  if (nodeRadius[node] - radius > weldMm / 2) return null;
  for (let k = at.ptr[node]; k < at.ptr[node + 1]; k++) {
    const other = at.ends[k];
    if (other === end) continue;
    const [r, ...u] = heading(data, other);
    const off = Math.hypot(axis[0] + u[0], axis[1] + u[1], axis[2] + u[2]);
    if (off * radius > weldMm / 2 || Math.abs(r - radius) > weldMm / 2) continue;
    // A sphere shows for about 2 R times the slope along a strut that grows thinner.
    const seamless = [end, other].every((each) => 2 * radius * thinning(data, each) < weldMm / 2);
    return { strut: other >> 1, seamless };
  }
  return null;
}

/** Radius and direction of a strut as it leaves the node at one of its ends. */
function heading(data: Float64Array, end: number): [number, number, number, number] {
  const s = STRIDE * (end >> 1);
  const sign = (end & 1) === 0 ? 1 : -1;
  const radius = data[s + RADIUS] + ((end & 1) === 0 ? 0 : data[s + SLOPE] * data[s + LENGTH]);
  return [radius, sign * data[s + AXIS], sign * data[s + AXIS + 1], sign * data[s + AXIS + 2]];
}

/** How fast a strut's radius falls as it leaves the node. */
const thinning = (data: Float64Array, end: number): number => {
  const slope = data[STRIDE * (end >> 1) + SLOPE];
  return (end & 1) === 0 ? -slope : slope;
};
