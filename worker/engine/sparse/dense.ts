/**
 * Dense work of the factor, on blocks stored by rows: block[at + i * width + k] is row i, column k. Every inner loop is a dot product of two
 * contiguous rows, in tiles that are held in registers.
 */

/**
 * The top `width` rows become the Cholesky factor of their lower triangle, the rows below are solved with it: [A11; A21] -> [L11; A21 L11^-T].
 * Answers -1, or the first column without a positive pivot, whose value is then left on the diagonal.
 */
export function factorBlock(block: Float64Array, at: number, width: number, height: number): number {
  for (let j = 0; j < width; j++) {
    const rowJ = at + j * width;
    for (let k = 0; k < j; k++) {
      const rowK = at + k * width;
      let sum = block[rowJ + k];
      for (let q = 0; q < k; q++) sum -= block[rowJ + q] * block[rowK + q];
      block[rowJ + k] = sum * block[rowK + k];
    }
    let pivot = block[rowJ + j];
    for (let q = 0; q < j; q++) pivot -= block[rowJ + q] * block[rowJ + q];
    if (!(pivot > 0) || pivot === Number.POSITIVE_INFINITY) {
      block[rowJ + j] = pivot;
      return j;
    }
    // The diagonal holds the inverse: rows are multiplied, not divided.
    block[rowJ + j] = 1 / Math.sqrt(pivot);
  }
  for (let i = width; i < height; i += 4) solveRows(block, at, width, i, Math.min(4, height - i));
  return -1;
}

/** Up to four rows from row i on, solved with the triangle at the top of the block. */
function solveRows(block: Float64Array, at: number, width: number, i: number, count: number): void {
  const r0 = at + i * width;
  const r1 = count > 1 ? r0 + width : r0;
  const r2 = count > 2 ? r1 + width : r1;
  const r3 = count > 3 ? r2 + width : r2;
  for (let j = 0; j < width; j++) {
    const top = at + j * width;
    let [a, b, c, d] = [block[r0 + j], block[r1 + j], block[r2 + j], block[r3 + j]];
    for (let q = 0; q < j; q++) {
      const l = block[top + q];
      a -= block[r0 + q] * l;
      b -= block[r1 + q] * l;
      c -= block[r2 + q] * l;
      d -= block[r3 + q] * l;
    }
    const inverse = block[top + j];
    // Where fewer than four rows are left the last one is written again, with the same value.
    block[r0 + j] = a * inverse;
    block[r1 + j] = b * inverse;
    block[r2 + j] = c * inverse;
    block[r3 + j] = d * inverse;
  }
}

/** Lower triangle of C -= X X^T, where X has `count` rows of `width` from `at` on and C `count` rows of `count`. */
export function downdate(C: Float64Array, X: Float64Array, at: number, width: number, count: number): void {
  for (let i = 0; i < count; i += 4) {
    const rows = Math.min(4, count - i);
    for (let j = 0; j < i + rows; j += 2) {
      if (rows === 4 && j + 1 < count) tile(C, X, at, width, count, i, j);
      else edge(C, X, at, width, count, i, rows, j);
    }
  }
}

/** Four rows by two columns. Entries above the diagonal are written too where the tile crosses it; nobody reads them. */
function tile(C: Float64Array, X: Float64Array, at: number, width: number, count: number, i: number, j: number): void {
  const a0 = at + i * width;
  const a1 = a0 + width;
  const a2 = a1 + width;
  const a3 = a2 + width;
  const b0 = at + j * width;
  const b1 = b0 + width;
  let [c00, c01, c10, c11, c20, c21, c30, c31] = [0, 0, 0, 0, 0, 0, 0, 0];
  for (let k = 0; k < width; k++) {
    const x = X[b0 + k];
    const y = X[b1 + k];
    const p = X[a0 + k];
    const q = X[a1 + k];
    const r = X[a2 + k];
    const s = X[a3 + k];
    c00 += p * x;
    c01 += p * y;
    c10 += q * x;
    c11 += q * y;
    c20 += r * x;
    c21 += r * y;
    c30 += s * x;
    c31 += s * y;
  }
  let at0 = i * count + j;
  C[at0] -= c00;
  C[at0 + 1] -= c01;
  at0 += count;
  C[at0] -= c10;
  C[at0 + 1] -= c11;
  at0 += count;
  C[at0] -= c20;
  C[at0 + 1] -= c21;
  at0 += count;
  C[at0] -= c30;
  C[at0 + 1] -= c31;
}

/** What is left at the edges, entry by entry. */
function edge(C: Float64Array, X: Float64Array, at: number, width: number, count: number, i: number, rows: number, j: number): void {
  for (let a = i; a < i + rows; a++) {
    for (let b = j; b < Math.min(j + 2, a + 1); b++) {
      let sum = 0;
      for (let k = 0; k < width; k++) sum += X[at + a * width + k] * X[at + b * width + k];
      C[a * count + b] -= sum;
    }
  }
}
