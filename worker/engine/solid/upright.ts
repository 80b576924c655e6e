import type { GraphSymmetry, StrutGraph } from '../lattice/index.ts';

/** Coordinates of images closer than this (mm) are the same point. */
const SAME = 1e-6;

/**
 * How often each strut and node counts when only one of each orbit under the rotations that keep the vertical is looked at: the orbit's size for
 * its representative (the one whose middle is the largest, comparing z, y, x in turn), 0 for the others. `turnsOver`: half of those rotations
 * point the vertical down.
 */
export function upright(graph: StrutGraph, symmetry: GraphSymmetry | null) {
  const rotations: Float64Array[] = [];
  const all = symmetry?.rotations ?? Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1);
  for (let g = 0; g < all.length; g += 9) if (Math.abs(all[g + 8]) > 1 - 1e-9) rotations.push(all.subarray(g, g + 9));
  const { xyz, ends } = graph;
  const count = (x: number, y: number, z: number): number => {
    let fixed = 0;
    for (const g of rotations) {
      const order = compare(g[6] * x + g[7] * y + g[8] * z - z, g[3] * x + g[4] * y + g[5] * z - y, g[0] * x + g[1] * y + g[2] * z - x);
      if (order > 0) return 0;
      if (order === 0) fixed++;
    }
    return rotations.length / fixed;
  };
  const middle = (s: number, k: number) => (xyz[3 * ends[2 * s] + k] + xyz[3 * ends[2 * s + 1] + k]) / 2;
  return {
    turnsOver: rotations.some((g) => g[8] < 0),
    weight: {
      strut: (s: number) => count(middle(s, 0), middle(s, 1), middle(s, 2)),
      node: (v: number) => count(xyz[3 * v], xyz[3 * v + 1], xyz[3 * v + 2]),
    },
  };
}

const compare = (...differences: number[]): number => differences.find((d) => Math.abs(d) > SAME) ?? 0;
