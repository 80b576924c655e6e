import { type Incidence, incidence, type StrutGraph } from '../lattice/index.ts';

/** Numbers per strut in `Frames.data`: start point, axis, two directions at right angles to it, length, radius at the start, radius per length. */
export const STRIDE = 15;
export const [START, AXIS, SIDE1, SIDE2, LENGTH, RADIUS, SLOPE] = [0, 3, 6, 9, 12, 13, 14];

/** Struts as frusta in a common frame: strut s is data[STRIDE s ..]; nodes are shifted so that `origin` is the coordinate origin. */
export interface Frames {
  readonly data: Float64Array;
  readonly nodes: Float64Array;
  readonly nodeRadius: Float64Array;
  readonly origin: readonly [number, number, number];
  /** Strut ends that meet at each node. */
  readonly at: Incidence;
}

/** Axis frames of all struts; `origin` (mm) becomes the origin of every moment taken from them. */
export function makeFrames(graph: StrutGraph, origin: readonly [number, number, number]): Frames {
  const nodes = graph.xyz.map((x, k) => x - origin[k % 3]);
  const data = new Float64Array(STRIDE * graph.strutCount);
  for (let s = 0; s < graph.strutCount; s++) {
    const [a, b] = [3 * graph.ends[2 * s], 3 * graph.ends[2 * s + 1]];
    const [dx, dy, dz] = [nodes[b] - nodes[a], nodes[b + 1] - nodes[a + 1], nodes[b + 2] - nodes[a + 2]];
    const length = Math.hypot(dx, dy, dz);
    const [ra, rb] = [graph.diameters[2 * s] / 2, graph.diameters[2 * s + 1] / 2];
    data.set([nodes[a], nodes[a + 1], nodes[a + 2], dx / length, dy / length, dz / length], STRIDE * s);
    data.set(perpendiculars(dx / length, dy / length, dz / length), STRIDE * s + SIDE1);
    data.set([length, ra, (rb - ra) / length], STRIDE * s + LENGTH);
  }
  return { data, nodes, nodeRadius: graph.nodeRadius, origin, at: incidence(graph) };
}

/** Two unit vectors that complete a unit vector to a right-handed frame (Duff et al. 2017). */
export function perpendiculars(x: number, y: number, z: number): [number, number, number, number, number, number] {
  const sign = z < 0 ? -1 : 1;
  const a = -1 / (sign + z);
  const b = x * y * a;
  return [1 + sign * x * x * a, sign * b, -sign * x, b, sign + y * y * a, -y];
}
