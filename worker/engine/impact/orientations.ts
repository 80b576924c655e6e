import type { Lattice } from '../lattice/index.ts';
import type { Direction } from './turn.ts';

/** A way down: the design's direction (unit vector) that points to the floor, and what is found there. */
export interface Orientation {
  readonly name: string;
  readonly down: Direction;
}

/**
 * `count` ways to drop a ball: down its five-, three- and two-fold axes, each named by what lies nearest to the axis (pentagon, hexagon, node, strut); then
 * what has not been named yet, the one nearest to any of these axes; then seeded random directions. `rotations`: the tiling's group, row-major, 9 each.
 */
export function orientationsOf(lattice: Lattice, rotations: Float64Array, count: number, seed: number): Orientation[] {
  const features = featuresOf(lattice);
  const named: Orientation[] = [];
  for (const order of [5, 3, 2]) {
    const axis = axisOf(rotations, order);
    if (axis) named.push({ name: nearest(features, [axis]).name, down: axis });
  }
  const axes = named.map(({ down }) => down);
  for (const name of ['pentagon', 'hexagon', 'node', 'strut']) {
    const alike = features.filter((feature) => feature.name === name);
    if (alike.length > 0 && !named.some((each) => each.name === name)) named.push(nearest(alike, axes));
  }
  return [...named.slice(0, count), ...randomOrientations(count - named.length, seed)];
}

/** Ways to drop a graph about which nothing is known: as it stands, then seeded random directions. */
export const orientationsOfGraph = (count: number, seed: number): Orientation[] => [
  { name: 'as-stored', down: [0, 0, -1] },
  ...randomOrientations(count - 1, seed),
];

/** Evenly over the sphere (Archimedes: height and longitude are independent and uniform). */
function randomOrientations(count: number, seed: number): Orientation[] {
  const next = uniform(seed);
  return Array.from({ length: Math.max(0, count) }, (_, k) => {
    const z = 2 * next() - 1;
    const angle = 2 * Math.PI * next();
    const r = Math.sqrt(1 - z * z);
    return { name: `random-${k + 1}`, down: [r * Math.cos(angle), r * Math.sin(angle), z] };
  });
}

/** Uniform in [0, 1), mulberry32. */
function uniform(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Cells, nodes and struts of the outer layer, as directions. */
function featuresOf({ graph: { xyz }, nodesPerLayer, strutsPerLayer, edges, cellCount, cellPtr, cellNodes }: Lattice): Orientation[] {
  const place = (v: number) => [xyz[3 * v], xyz[3 * v + 1], xyz[3 * v + 2]];
  const towards = (nodes: readonly number[]): Direction => {
    const sum = [0, 1, 2].map((k) => nodes.reduce((total, v) => total + place(v)[k], 0));
    const length = Math.hypot(...sum);
    return [sum[0] / length, sum[1] / length, sum[2] / length];
  };
  const cells = Array.from({ length: cellCount }, (_, c) => {
    const ring = [...cellNodes.subarray(cellPtr[c], cellPtr[c + 1])];
    return { name: ring.length === 5 ? 'pentagon' : 'hexagon', down: towards(ring) };
  });
  const nodes = Array.from({ length: nodesPerLayer }, (_, v) => ({ name: 'node', down: towards([v]) }));
  const struts = Array.from({ length: strutsPerLayer }, (_, e) => ({ name: 'strut', down: towards([edges[2 * e], edges[2 * e + 1]]) }));
  return [...cells, ...nodes, ...struts];
}

/** The feature nearest to any of some axes; of equals (within rounding) the first. */
function nearest(features: readonly Orientation[], axes: readonly Direction[]): Orientation {
  let best = features[0];
  let cosine = -2;
  for (const feature of features) {
    for (const axis of axes) {
      const value = feature.down[0] * axis[0] + feature.down[1] * axis[1] + feature.down[2] * axis[2];
      if (value > cosine + 1e-12) [best, cosine] = [feature, value];
    }
  }
  return best;
}

/** Axis of the first rotation by a full turn over `order`, or null. */
function axisOf(rotations: Float64Array, order: number): Direction | null {
  const trace = 1 + 2 * Math.cos((2 * Math.PI) / order);
  for (let r = 0; r < rotations.length; r += 9) {
    const R = rotations.subarray(r, r + 9);
    if (Math.abs(R[0] + R[4] + R[8] - trace) > 1e-9) continue;
    // R + R^T + (1 - trace) 1 = (3 - trace) times the axis times itself: its column with the largest diagonal.
    const k = [0, 1, 2].reduce((most, each) => (R[4 * each] > R[4 * most] ? each : most));
    const axis = [0, 1, 2].map((i) => R[3 * i + k] + R[3 * k + i] + (i === k ? 1 - trace : 0));
    const length = Math.hypot(...axis);
    return [axis[0] / length, axis[1] / length, axis[2] / length];
  }
  return null;
}
