import type { StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { integrateUnion, unionSurface } from '../../../worker/engine/solid/index.ts';
import { graphOf, type Point, type Strut } from '../print/samples.ts';

/** Numbers in [0, 1) from a seed (mulberry32). */
export function random(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** A direction, even over the sphere. */
export function anyDirection(next: () => number): Point {
  const z = 2 * next() - 1;
  const angle = 2 * Math.PI * next();
  const r = Math.sqrt(1 - z * z);
  return [r * Math.cos(angle), r * Math.sin(angle), z];
}

/** Random directions no two of which are closer than 50 degrees: struts along them have parted before their ends. */
export function wideDirections(next: () => number, count: number): Point[] {
  const found: Point[] = [];
  while (found.length < count) {
    const candidate = anyDirection(next);
    if (found.every((each) => each[0] * candidate[0] + each[1] * candidate[1] + each[2] * candidate[2] < 0.64)) found.push(candidate);
  }
  return found;
}

/** Rotation matrix about an axis by an angle (Rodrigues), row-major. */
export function rotation([x, y, z]: Point, angle: number): number[] {
  const [c, s, k] = [Math.cos(angle), Math.sin(angle), 1 - Math.cos(angle)];
  return [
    c + k * x * x,
    k * x * y - s * z,
    k * x * z + s * y,
    k * x * y + s * z,
    c + k * y * y,
    k * y * z - s * x,
    k * x * z - s * y,
    k * y * z + s * x,
    c + k * z * z,
  ];
}

export interface Motion {
  /** Rotation, row-major. */
  readonly turn: readonly number[];
  readonly shift: Point;
  readonly scale: number;
}
export const STILL: Motion = { turn: [1, 0, 0, 0, 1, 0, 0, 0, 1], shift: [0, 0, 0], scale: 1 };

/** The graph after x -> scale turn x + shift. */
export function moved(graph: StrutGraph, { turn, shift, scale }: Motion): StrutGraph {
  const { xyz } = graph;
  const at = (v: number, i: number) => turn[3 * i] * xyz[3 * v] + turn[3 * i + 1] * xyz[3 * v + 1] + turn[3 * i + 2] * xyz[3 * v + 2];
  return {
    ...graph,
    xyz: xyz.map((_, k) => scale * at(Math.floor(k / 3), k % 3) + shift[k % 3]),
    diameters: graph.diameters.map((d) => scale * d),
    nodeRadius: graph.nodeRadius.map((r) => scale * r),
  };
}

/** Moments (see Moments) of the union about the origin, all struts and nodes integrated. */
export const momentsOf = (graph: StrutGraph): Float64Array => integrateUnion(graph, unionSurface(graph), null).moments;
export const volumeOf = (graph: StrutGraph): number => momentsOf(graph)[0];

/** A bar of two nodes. */
export const bar = (from: Point, to: Point, diameter: number, other = diameter): StrutGraph =>
  graphOf([from, to], [[0, 1, diameter, other]]);

/** Struts from one node outwards, each with its direction, length and diameters at the node and at its free end. */
export function star(arms: readonly { direction: Point; length: number; diameter: number; free?: number }[]): StrutGraph {
  const points: Point[] = [
    [0, 0, 0],
    ...arms.map(({ direction, length }): Point => [length * direction[0], length * direction[1], length * direction[2]]),
  ];
  return graphOf(
    points,
    arms.map(({ diameter, free }, k): Strut => [0, k + 1, diameter, free]),
  );
}

/** Every strut cut at the given shares of its length into pieces in one line; diameters follow the cone. */
export function split(graph: StrutGraph, sharesOf: (strut: number) => readonly number[]): StrutGraph {
  const points = Array.from({ length: graph.nodeCount }, (_, v): Point => [graph.xyz[3 * v], graph.xyz[3 * v + 1], graph.xyz[3 * v + 2]]);
  const struts: Strut[] = [];
  for (let s = 0; s < graph.strutCount; s++) {
    const [a, b] = [graph.ends[2 * s], graph.ends[2 * s + 1]];
    const [da, db] = [graph.diameters[2 * s], graph.diameters[2 * s + 1]];
    const [p, q] = [points[a], points[b]];
    let [from, width] = [a, da];
    for (const share of sharesOf(s)) {
      const at = points.push([0, 1, 2].map((i) => p[i] + share * (q[i] - p[i])) as unknown as Point) - 1;
      const there = da + share * (db - da);
      struts.push([from, at, width, there]);
      [from, width] = [at, there];
    }
    struts.push([from, b, width, db]);
  }
  return graphOf(points, struts);
}

/** Largest difference of two sets of moments, each entry by the size its kind has in the first: volume, volume * reach, volume * reach^2. */
export function momentsApart(a: ArrayLike<number>, b: ArrayLike<number>): number {
  const reach = Math.sqrt((a[4] + a[5] + a[6]) / a[0]);
  const size = (k: number) => a[0] * (k === 0 ? 1 : k < 4 ? reach : reach * reach);
  return Math.max(...Array.from({ length: 10 }, (_, k) => Math.abs(a[k] - b[k]) / size(k)));
}
