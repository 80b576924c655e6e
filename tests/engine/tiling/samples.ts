import type { Tiling } from '../../../worker/engine/tiling/index.ts';

/** Small pairs (m, n) of all three classes, both hands of the third. */
export const PAIRS = [
  [1, 0],
  [2, 0],
  [3, 0],
  [0, 3],
  [5, 0],
  [1, 1],
  [2, 2],
  [3, 3],
  [2, 1],
  [1, 2],
  [3, 1],
  [2, 3],
  [4, 3],
] as const;

export type Vector = readonly [number, number, number];
export const at = (xyz: ArrayLike<number>, k: number): Vector => [xyz[3 * k], xyz[3 * k + 1], xyz[3 * k + 2]];
export const dot = (a: Vector, b: Vector) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vector, b: Vector): Vector => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
/** Row-major 3 x 3 matrix, starting at `from`, times a vector. */
export const apply = (g: ArrayLike<number>, v: Vector, from = 0): Vector => [
  g[from] * v[0] + g[from + 1] * v[1] + g[from + 2] * v[2],
  g[from + 3] * v[0] + g[from + 4] * v[1] + g[from + 5] * v[2],
  g[from + 6] * v[0] + g[from + 7] * v[1] + g[from + 8] * v[2],
];

export const ringOf = ({ cellPtr, cellNodes }: Tiling, c: number): number[] => [...cellNodes.subarray(cellPtr[c], cellPtr[c + 1])];
export const edgeName = (a: number, b: number) => `${Math.min(a, b)}-${Math.max(a, b)}`;
export const edgeNames = ({ edges, edgeCount }: Tiling) =>
  Array.from({ length: edgeCount }, (_, e) => edgeName(edges[2 * e], edges[2 * e + 1]));

/** Finds points of a set by position: the index of the one within `reach` of a place, -1 where there is none. */
export function finder(xyz: Float64Array, reach = 1e-9): (place: Vector) => number {
  const side = 1e-3;
  const boxes = new Map<string, number[]>();
  const box = (place: Vector) => place.map((x) => Math.round(x / side));
  for (let k = 0; k < xyz.length / 3; k++) {
    const name = box(at(xyz, k)).join();
    boxes.set(name, [...(boxes.get(name) ?? []), k]);
  }
  return (place) => {
    const [i, j, k] = box(place);
    for (const u of [i - 1, i, i + 1])
      for (const v of [j - 1, j, j + 1])
        for (const w of [k - 1, k, k + 1])
          for (const p of boxes.get(`${u},${v},${w}`) ?? [])
            if (Math.hypot(xyz[3 * p] - place[0], xyz[3 * p + 1] - place[1], xyz[3 * p + 2] - place[2]) < reach) return p;
    return -1;
  };
}

/** Node that each node is carried to by a map of space; -1 where no node lies. */
export function images(tiling: Tiling, map: (v: Vector) => Vector): Int32Array {
  const find = finder(tiling.xyz);
  return Int32Array.from({ length: tiling.nodeCount }, (_, v) => find(map(at(tiling.xyz, v))));
}

/** Whether a map of space carries nodes to nodes, each once, and edges to edges. */
export function keeps(tiling: Tiling, map: (v: Vector) => Vector): boolean {
  const image = images(tiling, map);
  if (new Set(image).size !== tiling.nodeCount || image.includes(-1)) return false;
  const known = new Set(edgeNames(tiling));
  return edgeNames(tiling).every((name) => known.has(edgeName(...(name.split('-').map((v) => image[Number(v)]) as [number, number]))));
}
