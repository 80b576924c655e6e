import type { CholeskyFactor } from './cholesky.ts';
import { multiply, type SparseMatrix } from './matrix.ts';
import { widthOf } from './symbolic.ts';
import { TILE, TILE_NUMBERS, tilesOf } from './tiles.ts';

/** x = A^-1 b with the factor of A; n numbers each, x may be b. Nothing is allocated: the factor's work space is used. */
export function solve(factor: CholeskyFactor, b: Float64Array, x: Float64Array): void {
  const { symbolic, work: y } = factor;
  const { n, permutation, blocks } = symbolic;
  for (let k = 0; k < n; k++) y[k] = b[permutation[k]];
  for (let s = 0; s < blocks.count; s++) forward(factor, s);
  for (let s = blocks.count - 1; s >= 0; s--) backward(factor, s);
  for (let k = 0; k < n; k++) x[permutation[k]] = y[k];
}

/** Columns of block s of L y = b: its triangle, then what its columns take from the rows below. */
function forward({ symbolic, values, work: y }: CholeskyFactor, s: number): void {
  const { blocks, rowPtr, rows, valuePtr } = symbolic;
  const first = blocks.firstColumn[s];
  const width = widthOf(symbolic, s);
  const columns = tilesOf(width);
  for (let k = 0; k < width; k++) {
    let at = valuePtr[s] + (k >> 2) * (columns + 1) * TILE_NUMBERS + TILE * (k & 3) + (k & 3);
    const known = y[first + k] * values[at];
    y[first + k] = known;
    for (let i = k + 1; i < width; i++) {
      at += (i & 3) === 0 ? columns * TILE_NUMBERS - TILE + 1 : 1;
      y[first + i] -= values[at] * known;
    }
  }
  const [from, end] = [rowPtr[s] + width, rowPtr[s + 1]];
  let at = valuePtr[s] + columns * columns * TILE_NUMBERS;
  const padding = (TILE * columns - width) * TILE;
  for (let r = from; r < end; r += TILE) {
    let [a0, a1, a2, a3] = [0, 0, 0, 0];
    for (let k = 0; k < width; k++, at += TILE) {
      const known = y[first + k];
      a0 += values[at] * known;
      a1 += values[at + 1] * known;
      a2 += values[at + 2] * known;
      a3 += values[at + 3] * known;
    }
    at += padding;
    y[rows[r]] -= a0;
    if (r + 1 < end) y[rows[r + 1]] -= a1;
    if (r + 2 < end) y[rows[r + 2]] -= a2;
    if (r + 3 < end) y[rows[r + 3]] -= a3;
  }
}

/** Rows of block s of L^T x = y: less what the rows below take, then its triangle from the bottom up. */
function backward({ symbolic, values, work: y }: CholeskyFactor, s: number): void {
  const { blocks, rowPtr, rows, valuePtr } = symbolic;
  const first = blocks.firstColumn[s];
  const width = widthOf(symbolic, s);
  const columns = tilesOf(width);
  const [from, end] = [rowPtr[s] + width, rowPtr[s + 1]];
  let at = valuePtr[s] + columns * columns * TILE_NUMBERS;
  const padding = (TILE * columns - width) * TILE;
  for (let r = from; r < end; r += TILE) {
    const y0 = y[rows[r]];
    const y1 = r + 1 < end ? y[rows[r + 1]] : 0;
    const y2 = r + 2 < end ? y[rows[r + 2]] : 0;
    const y3 = r + 3 < end ? y[rows[r + 3]] : 0;
    for (let k = 0; k < width; k++, at += TILE)
      y[first + k] -= values[at] * y0 + values[at + 1] * y1 + values[at + 2] * y2 + values[at + 3] * y3;
    at += padding;
  }
  for (let k = width - 1; k >= 0; k--) {
    const diagonal = valuePtr[s] + (k >> 2) * (columns + 1) * TILE_NUMBERS + TILE * (k & 3) + (k & 3);
    let sum = y[first + k];
    for (let i = k + 1, l = diagonal; i < width; i++) {
      l += (i & 3) === 0 ? columns * TILE_NUMBERS - TILE + 1 : 1;
      sum -= values[l] * y[first + i];
    }
    y[first + k] = sum * values[diagonal];
  }
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
