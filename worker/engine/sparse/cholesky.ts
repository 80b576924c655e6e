import { downdate, factorBlock } from './dense.ts';
import type { SparseMatrix } from './matrix.ts';
import type { SymbolicFactor } from './symbolic.ts';

/** L of P A P^T = L L^T by dense blocks (rows contiguous; the diagonal holds its inverse), with the work space that solves use. */
export interface CholeskyFactor {
  readonly kind: 'factor';
  readonly symbolic: SymbolicFactor;
  readonly values: Float64Array;
  readonly work: Float64Array;
}

/** The matrix has no Cholesky factor: the pivot of this unknown is zero, negative or not a number. */
export interface NotPositiveDefinite {
  readonly kind: 'not-positive-definite';
  readonly column: number;
  readonly pivot: number;
}

/** Multifrontal work space: the updates of blocks whose parent has not come yet, one after another. */
interface Fronts {
  readonly update: Float64Array;
  stack: Float64Array;
  top: number;
  /** Place of a row in the front at hand, n. */
  readonly place: Int32Array;
}

/**
 * Numeric phase: supernodal multifrontal Cholesky (Duff, Reid 1983; Liu 1992). `matrix` has the pattern that was analysed, or part of it.
 */
export function factorise(symbolic: SymbolicFactor, matrix: SparseMatrix): CholeskyFactor | NotPositiveDefinite {
  const { n, blocks, rowPtr, valuePtr, permutation } = symbolic;
  const values = new Float64Array(valuePtr[blocks.count]);
  spread(symbolic, matrix, values);
  let largest = 0;
  for (let s = 0; s < blocks.count; s++) largest = Math.max(largest, rowPtr[s + 1] - rowPtr[s] - widthOf(symbolic, s));
  const fronts: Fronts = { update: new Float64Array(largest * largest), stack: new Float64Array(0), top: 0, place: new Int32Array(n) };
  const waiting: number[] = [];
  for (let s = 0; s < blocks.count; s++) {
    const [width, height] = [widthOf(symbolic, s), rowPtr[s + 1] - rowPtr[s]];
    const count = height - width;
    fronts.update.fill(0, 0, count * count);
    gather(symbolic, s, values, fronts, waiting);
    const stopped = factorBlock(values, valuePtr[s], width, height);
    if (stopped >= 0) {
      const pivot = values[valuePtr[s] + stopped * (width + 1)];
      return { kind: 'not-positive-definite', column: permutation[blocks.firstColumn[s] + stopped], pivot };
    }
    if (count === 0) continue;
    downdate(fronts.update, values, valuePtr[s] + width * width, width, count);
    keep(fronts, count);
    waiting.push(s);
  }
  return { kind: 'factor', symbolic, values, work: new Float64Array(n) };
}

const widthOf = ({ blocks }: SymbolicFactor, s: number): number => blocks.firstColumn[s + 1] - blocks.firstColumn[s];

/** Entries of the matrix into the blocks of L. */
function spread({ n, inverse, blocks, rowPtr, rows, valuePtr }: SymbolicFactor, matrix: SparseMatrix, values: Float64Array): void {
  if (matrix.n !== n) throw new RangeError(`the matrix has ${matrix.n} rows; the pattern analysed has ${n}`);
  for (let j = 0; j < n; j++) {
    for (let p = matrix.colPtr[j]; p < matrix.colPtr[j + 1]; p++) {
      const [a, b] = [inverse[j], inverse[matrix.rowIdx[p]]];
      const [row, column] = [Math.max(a, b), Math.min(a, b)];
      const s = blocks.of[column];
      const i = search(rows, rowPtr[s], rowPtr[s + 1], row);
      if (i < 0) throw new RangeError(`the entry at row ${matrix.rowIdx[p]}, column ${j} is not in the pattern analysed`);
      values[valuePtr[s] + (i - rowPtr[s]) * (blocks.firstColumn[s + 1] - blocks.firstColumn[s]) + column - blocks.firstColumn[s]] =
        matrix.values[p];
    }
  }
}

function search(rows: Int32Array, from: number, to: number, row: number): number {
  let [low, high] = [from, to - 1];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rows[middle] < row) low = middle + 1;
    else high = middle;
  }
  return rows[low] === row ? low : -1;
}

/** Adds the updates of the children of block s, which wait on top of the stack, to its block and to its own update. */
function gather(symbolic: SymbolicFactor, s: number, values: Float64Array, fronts: Fronts, waiting: number[]): void {
  const { rowPtr, rows, valuePtr, parent } = symbolic;
  const { update, place } = fronts;
  const width = widthOf(symbolic, s);
  const count = rowPtr[s + 1] - rowPtr[s] - width;
  for (let r = rowPtr[s]; r < rowPtr[s + 1]; r++) place[rows[r]] = r - rowPtr[s];
  while (waiting.length > 0 && parent[waiting[waiting.length - 1]] === s) {
    const child = waiting.pop() as number;
    const from = rowPtr[child] + widthOf(symbolic, child);
    const size = rowPtr[child + 1] - from;
    const stack = fronts.stack;
    const base = fronts.top - size * size;
    for (let a = 0; a < size; a++) {
      const i = place[rows[from + a]];
      const source = base + a * size;
      const block = valuePtr[s] + i * width;
      const rest = (i - width) * count - width;
      for (let b = 0; b <= a; b++) {
        const j = place[rows[from + b]];
        if (j < width) values[block + j] += stack[source + b];
        else update[rest + j] += stack[source + b];
      }
    }
    fronts.top = base;
  }
}

/** Puts the update at hand on the stack. */
function keep(fronts: Fronts, count: number): void {
  const size = count * count;
  if (fronts.top + size > fronts.stack.length) {
    const larger = new Float64Array(2 * (fronts.top + size));
    larger.set(fronts.stack.subarray(0, fronts.top));
    fronts.stack = larger;
  }
  fronts.stack.set(fronts.update.subarray(0, size), fronts.top);
  fronts.top += size;
}
