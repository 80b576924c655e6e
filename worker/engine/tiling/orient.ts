import type { Tiling } from './tiling.ts';

export type Orientation = 'split-plane' | 'pentagon-up' | 'hexagon-up';

/**
 * Turns the whole tiling. The construction has two-fold axes along x, y and z, so z = 0 is a mirror plane of classes I and II and holds two
 * two-fold axes of class III, whose half turns swap the halves: that is `split-plane`. The others turn a cell to +z by the shortest way:
 * a pentagon, or the cell whose seed lies on the three-fold axis (1, 1, 1), else the one nearest to it.
 */
export function orient(tiling: Tiling, orientation: Orientation): Tiling {
  return orientation === 'split-plane' ? tiling : turn(tiling, turnFor(tiling, orientation));
}

/** The rotation (row-major) by which `orient` turns a tiling as constructed. */
function turnFor({ cellDirection }: Tiling, orientation: Orientation): number[] {
  if (orientation === 'split-plane') return [1, 0, 0, 0, 1, 0, 0, 0, 1];
  const near = orientation === 'pentagon-up' ? cellDirection.subarray(0, 3) : [1, 1, 1];
  const up = nearestCell(cellDirection, near);
  return shortestTurnToZ(cellDirection.subarray(3 * up, 3 * up + 3));
}

/** The rotation that takes a tiling from one orientation to another. constructed: not turned yet. */
export const turnBetween = (constructed: Tiling, from: Orientation, to: Orientation): number[] =>
  product(turnFor(constructed, to), transpose(turnFor(constructed, from)));

/** The cell nearest to a direction; of equals (within rounding) the first. */
function nearestCell(directions: Float64Array, near: ArrayLike<number>): number {
  let best = 0;
  let cosine = Number.NEGATIVE_INFINITY;
  for (let c = 0; c < directions.length / 3; c++) {
    const value = directions[3 * c] * near[0] + directions[3 * c + 1] * near[1] + directions[3 * c + 2] * near[2];
    if (value > cosine + 1e-12) [best, cosine] = [c, value];
  }
  return best;
}

/** Rotation about v x z that carries the unit vector v to +z (Rodrigues); a half turn about x when v points straight down. */
function shortestTurnToZ([x, y, z]: Float64Array): number[] {
  if (z < -1 + 1e-12) return [1, 0, 0, 0, -1, 0, 0, 0, -1];
  const k = 1 / (1 + z);
  return [1 - k * x * x, -k * x * y, -x, -k * x * y, 1 - k * y * y, -y, x, y, z];
}

function turn(tiling: Tiling, q: number[]): Tiling {
  return {
    ...tiling,
    xyz: turnPoints(tiling.xyz, q),
    cellDirection: turnPoints(tiling.cellDirection, q),
    symmetry: { ...tiling.symmetry, rotations: turnGroup(tiling.symmetry.rotations, q) },
  };
}

/** The rotations of what is turned by q: g becomes q g q^T. 9 each, row-major. */
export function turnGroup(rotations: Float64Array, q: number[]): Float64Array {
  const turned = new Float64Array(rotations.length);
  for (let r = 0; r < rotations.length; r += 9) turned.set(product(product(q, rotations.subarray(r, r + 9)), transpose(q)), r);
  return turned;
}

/** Points, 3 coordinates each, turned by q. */
export function turnPoints(xyz: Float64Array, q: number[]): Float64Array {
  const turned = new Float64Array(xyz.length);
  for (let p = 0; p < xyz.length; p += 3) {
    for (let i = 0; i < 3; i++) turned[p + i] = q[3 * i] * xyz[p] + q[3 * i + 1] * xyz[p + 1] + q[3 * i + 2] * xyz[p + 2];
  }
  return turned;
}

const transpose = (a: ArrayLike<number>): number[] => [0, 3, 6, 1, 4, 7, 2, 5, 8].map((k) => a[k]);
const product = (a: ArrayLike<number>, b: ArrayLike<number>): number[] =>
  Array.from({ length: 9 }, (_, k) => {
    const [row, column] = [3 * Math.floor(k / 3), k % 3];
    return a[row] * b[column] + a[row + 1] * b[3 + column] + a[row + 2] * b[6 + column];
  });
