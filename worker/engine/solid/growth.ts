import type { GraphSymmetry, StrutGraph } from '../lattice/index.ts';
import { addRotated, MOMENTS, type Moments } from './moments.ts';
import type { UnionSurface } from './union.ts';

/** Ten moments (see Moments) per strut and per node: what the union gains per mm when that radius alone grows. */
export interface Growth {
  readonly strut: Float64Array;
  readonly node: Float64Array;
}

/**
 * First derivatives of the union's moments with respect to every strut's radius (both ends together) and every node sphere's, exact: the integrals
 * over their exposed surfaces. With a symmetry group about the surface's origin only one of each orbit is integrated, the others are turned images.
 * Cancelled it ends early, and what it returns is of no use.
 */
export function growthOf(
  graph: StrutGraph,
  surface: UnionSurface,
  symmetry: GraphSymmetry | null,
  isCancelled: () => boolean = () => false,
): Growth {
  const { xyz, ends, strutCount, nodeCount } = graph;
  const middles = new Float64Array(3 * strutCount);
  for (let s = 0; s < strutCount; s++)
    for (let k = 0; k < 3; k++) middles[3 * s + k] = (xyz[3 * ends[2 * s] + k] + xyz[3 * ends[2 * s + 1] + k]) / 2;
  return {
    strut: spread(middles, symmetry?.strutOrbit, symmetry, (s, out) => isCancelled() || surface.growStrut(s, out)),
    node: spread(xyz.subarray(0, 3 * nodeCount), symmetry?.nodeOrbit, symmetry, (v, out) => isCancelled() || surface.growNode(v, out)),
  };
}

function spread(
  places: Float64Array,
  orbit: Int32Array | undefined,
  symmetry: GraphSymmetry | null,
  grow: (index: number, out: Moments) => unknown,
): Float64Array {
  const count = places.length / 3;
  const all = new Float64Array(MOMENTS * count);
  for (let k = 0; k < count; k++) {
    const out = all.subarray(MOMENTS * k, MOMENTS * (k + 1));
    const first = orbit?.[k] ?? k;
    // A representative is the lowest index of its orbit, so it is there already.
    if (first === k) grow(k, out);
    else
      addRotated(out, all.subarray(MOMENTS * first, MOMENTS * (first + 1)), symmetry!.rotations, turning(places, first, k, symmetry!), 1);
  }
  return all;
}

/** Offset of the rotation that takes place `from` to place `to`, or nearest to it: no two places of an orbit are near each other. */
function turning(places: Float64Array, from: number, to: number, { rotations }: GraphSymmetry): number {
  const [x, y, z] = places.subarray(3 * from, 3 * from + 3);
  let [best, nearest] = [0, Number.POSITIVE_INFINITY];
  for (let g = 0; g < rotations.length; g += 9) {
    const off = (row: number) =>
      rotations[g + row] * x + rotations[g + row + 1] * y + rotations[g + row + 2] * z - places[3 * to + row / 3];
    const square = off(0) ** 2 + off(3) ** 2 + off(6) ** 2;
    if (square < nearest) [best, nearest] = [g, square];
  }
  return best;
}
