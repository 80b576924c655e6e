import type { CholeskyFactor } from './cholesky.ts';
import { multiply, type SparseMatrix } from './matrix.ts';

/** x = A^-1 b with the factor of A; n numbers each, x may be b. Nothing is allocated: the factor's work space is used. */
export function solve({ symbolic, values, work: y }: CholeskyFactor, b: Float64Array, x: Float64Array): void {
  const { n, permutation, blocks, rowPtr, rows, valuePtr } = symbolic;
  for (let k = 0; k < n; k++) y[k] = b[permutation[k]];
  for (let s = 0; s < blocks.count; s++) {
    const first = blocks.firstColumn[s];
    const width = blocks.firstColumn[s + 1] - first;
    let row = valuePtr[s];
    for (let r = rowPtr[s]; r < rowPtr[s + 1]; r++, row += width) {
      const own = r - rowPtr[s];
      const columns = Math.min(own, width);
      let sum = y[rows[r]];
      for (let k = 0; k < columns; k++) sum -= values[row + k] * y[first + k];
      y[rows[r]] = own < width ? sum * values[row + own] : sum;
    }
  }
  for (let s = blocks.count - 1; s >= 0; s--) {
    const first = blocks.firstColumn[s];
    const width = blocks.firstColumn[s + 1] - first;
    let row = valuePtr[s + 1] - width;
    for (let r = rowPtr[s + 1] - 1; r >= rowPtr[s]; r--, row -= width) {
      const own = r - rowPtr[s];
      if (own < width) y[first + own] *= values[row + own];
      const known = y[rows[r]];
      const columns = Math.min(own, width);
      for (let k = 0; k < columns; k++) y[first + k] -= values[row + k] * known;
    }
  }
  for (let k = 0; k < n; k++) x[permutation[k]] = y[k];
}

/**
 * Iterative refinement: corrects x by the factor until the residual no longer halves, at most `steps` times. Answers the largest residual over the
 * largest entry of b (of 1 where b is zero).
 */
export function refine(factor: CholeskyFactor, matrix: SparseMatrix, b: Float64Array, x: Float64Array, steps = 3): number {
  const residual = new Float64Array(matrix.n);
  const correction = new Float64Array(matrix.n);
  const scale = largest(b) || 1;
  let error = residualOf(matrix, b, x, residual);
  for (let step = 0; step < steps && error > 0; step++) {
    solve(factor, residual, correction);
    for (let i = 0; i < x.length; i++) x[i] += correction[i];
    const next = residualOf(matrix, b, x, residual);
    if (!(next < error)) {
      for (let i = 0; i < x.length; i++) x[i] -= correction[i];
      break;
    }
    const worthwhile = next < error / 2;
    error = next;
    if (!worthwhile) break;
  }
  return error / scale;
}

/** residual = b - A x; answers its largest entry. */
function residualOf(matrix: SparseMatrix, b: Float64Array, x: Float64Array, residual: Float64Array): number {
  multiply(matrix, x, residual);
  for (let i = 0; i < b.length; i++) residual[i] = b[i] - residual[i];
  return largest(residual);
}

function largest(x: Float64Array): number {
  let max = 0;
  for (const each of x) max = Math.max(max, Math.abs(each));
  return max;
}
