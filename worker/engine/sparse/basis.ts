import { multiply, type SparseMatrix } from './matrix.ts';

/** Vectors that are orthonormal in an inner product, with their products by its matrix; n numbers each, one after another, `size` of them so far. */
export interface Basis {
  readonly n: number;
  readonly vectors: Float64Array;
  readonly products: Float64Array;
  size: number;
  /** n */
  readonly work: Float64Array;
}

/** What is left of a vector that lies in the basis, relative: rounding. */
const NOTHING = 1e-12;
const PASSES = 3;

export function emptyBasis({ n }: SparseMatrix, room: number): Basis {
  return { n, vectors: new Float64Array(room * n), products: new Float64Array(room * n), size: 0, work: new Float64Array(n) };
}

/**
 * Appends what `w` (overwritten) has beyond the basis, as a vector of length 1. Answers the shares of w on the basis, the last one that of the new
 * vector. Where w lies in the basis, or the basis is full, nothing is appended. `recent`: on so many of the last vectors w has its large shares.
 */
export function extend(
  basis: Basis,
  inner: SparseMatrix,
  w: Float64Array,
  recent: number,
): { readonly shares: Float64Array; readonly appended: boolean } {
  const { n, vectors, products, size, work: product } = basis;
  const shares = new Float64Array(size + 1);
  multiply(inner, w, product);
  const before = lengthOf(w, product);
  removeShares(basis, w, Math.max(0, size - recent), shares);
  let left = 0;
  // All shares, and again where much went: what is left would carry the rounding of it (Kahan and Parlett, in Parlett 1980, 6.9).
  for (let pass = 0; pass < PASSES; pass++) {
    const removed = removeShares(basis, w, 0, shares);
    multiply(inner, w, product);
    left = lengthOf(w, product);
    if (removed <= left || left <= NOTHING * before) break;
  }
  if (!(left > NOTHING * before)) return { shares, appended: false };
  shares[size] = left;
  if ((size + 1) * n > vectors.length) return { shares, appended: false };
  for (let i = 0; i < n; i++) {
    vectors[size * n + i] = w[i] / left;
    products[size * n + i] = product[i] / left;
  }
  basis.size++;
  return { shares, appended: true };
}

const lengthOf = (w: Float64Array, product: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < w.length; i++) sum += w[i] * product[i];
  return Math.sqrt(Math.max(0, sum));
};

/**
 * w -= V (V^T M w) over the vectors `from` and later, shares added to `shares`; four vectors at a time, so that w is read a quarter as often.
 * Answers the length removed.
 */
function removeShares({ n, vectors, products, size }: Basis, w: Float64Array, from: number, shares: Float64Array): number {
  let removed = 0;
  for (let k = from; k < size; k += 4) {
    const at0 = k * n;
    // Beyond the last vector it is taken again, with a share of zero.
    const at1 = Math.min(k + 1, size - 1) * n;
    const at2 = Math.min(k + 2, size - 1) * n;
    const at3 = Math.min(k + 3, size - 1) * n;
    let a = 0;
    let b = 0;
    let c = 0;
    let d = 0;
    for (let i = 0; i < n; i++) {
      const x = w[i];
      a += products[at0 + i] * x;
      b += products[at1 + i] * x;
      c += products[at2 + i] * x;
      d += products[at3 + i] * x;
    }
    if (k + 1 >= size) b = 0;
    if (k + 2 >= size) c = 0;
    if (k + 3 >= size) d = 0;
    for (let i = 0; i < n; i++) w[i] -= a * vectors[at0 + i] + b * vectors[at1 + i] + c * vectors[at2 + i] + d * vectors[at3 + i];
    for (const [more, share] of [a, b, c, d].entries()) if (k + more < size) shares[k + more] += share;
    removed += a * a + b * b + c * c + d * d;
  }
  return Math.sqrt(removed);
}

/** The vector with these shares on the basis. */
export function ofBasis({ n, vectors }: Basis, shares: Float64Array): Float64Array {
  const x = new Float64Array(n);
  for (let j = 0; j < shares.length; j++) for (let i = 0; i < n; i++) x[i] += shares[j] * vectors[j * n + i];
  return x;
}
