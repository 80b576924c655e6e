import { factorBlock } from './block.ts';
import type { SparseMatrix } from './matrix.ts';
import { type SymbolicFactor, widthOf } from './symbolic.ts';
import { TILE, TILE_NUMBERS, type TileBoard, tilesOf } from './tiles.ts';

/** L of P A P^T = L L^T by blocks of tiles (the diagonal holds its inverse), with the work space that solves use. */
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
  readonly board: TileBoard;
  stack: Float64Array;
  top: number;
  readonly waiting: number[];
  /** Row of the block at hand, by row of the matrix, n. */
  readonly place: Int32Array;
}

/**
 * Numeric phase: supernodal multifrontal Cholesky (Duff, Reid 1983; Liu 1992). `matrix` has the pattern that was analysed, or part of it. `poll` is called
 * for every block, and may throw.
 */
export function factorise(
  symbolic: SymbolicFactor,
  matrix: SparseMatrix,
  poll: () => void = () => {},
): CholeskyFactor | NotPositiveDefinite {
  const { n, blocks, rowPtr, valuePtr, permutation } = symbolic;
  const values = new Float64Array(valuePtr[blocks.count]);
  spread(symbolic, matrix, values);
  const fronts: Fronts = { board: symbolic.board, stack: new Float64Array(0), top: 0, waiting: [], place: new Int32Array(n) };
  const { block, update } = fronts.board;
  for (let s = 0; s < blocks.count; s++) {
    poll();
    const columns = tilesOf(widthOf(symbolic, s));
    const size = tilesOf(rowPtr[s + 1] - rowPtr[s] - widthOf(symbolic, s));
    block.set(values.subarray(valuePtr[s], valuePtr[s + 1]));
    update.fill(0, 0, size * size * TILE_NUMBERS);
    gather(symbolic, s, fronts);
    const stopped = factorBlock(fronts.board, columns, columns + size);
    if (stopped >= 0) {
      const pivot = block[placeIn(columns, stopped, stopped)];
      return { kind: 'not-positive-definite', column: permutation[blocks.firstColumn[s] + stopped], pivot };
    }
    values.set(block.subarray(0, valuePtr[s + 1] - valuePtr[s]), valuePtr[s]);
    if (size === 0) continue;
    fronts.board.takeUpdate(columns, size);
    keep(fronts, size * size * TILE_NUMBERS);
    fronts.waiting.push(s);
  }
  return { kind: 'factor', symbolic, values, work: new Float64Array(n) };
}

/** Row i, column k in tiles of which `columns` stand in a row. */
const placeIn = (columns: number, i: number, k: number): number =>
  ((i >> 2) * columns + (k >> 2)) * TILE_NUMBERS + TILE * (k & 3) + (i & 3);

/** Entries of the matrix into the blocks of L; ones on the diagonal where a block's columns do not fill its last tile. */
function spread(symbolic: SymbolicFactor, matrix: SparseMatrix, values: Float64Array): void {
  const { n, inverse, blocks, rowPtr, rows, valuePtr } = symbolic;
  if (matrix.n !== n) throw new RangeError(`the matrix has ${matrix.n} rows; the pattern analysed has ${n}`);
  for (let s = 0; s < blocks.count; s++) {
    const columns = tilesOf(widthOf(symbolic, s));
    for (let k = widthOf(symbolic, s); k < TILE * columns; k++) values[valuePtr[s] + placeIn(columns, k, k)] = 1;
  }
  for (let j = 0; j < n; j++) {
    const a = inverse[j];
    for (let p = matrix.colPtr[j]; p < matrix.colPtr[j + 1]; p++) {
      const b = inverse[matrix.rowIdx[p]];
      const column = Math.min(a, b);
      const s = blocks.of[column];
      const i = search(rows, rowPtr[s], rowPtr[s + 1], Math.max(a, b)) - rowPtr[s];
      if (i < 0) throw new RangeError(`the entry at row ${matrix.rowIdx[p]}, column ${j} is not in the pattern analysed`);
      const width = blocks.firstColumn[s + 1] - blocks.firstColumn[s];
      const columns = tilesOf(width);
      const row = i < width ? i : i + TILE * columns - width;
      values[valuePtr[s] + placeIn(columns, row, column - blocks.firstColumn[s])] = matrix.values[p];
    }
  }
}

function search(rows: Int32Array, from: number, to: number, row: number): number {
  let low = from;
  let high = to - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rows[middle] < row) low = middle + 1;
    else high = middle;
  }
  return rows[low] === row ? low : -1;
}

/** Adds the updates of the children of block s, which wait on top of the stack, to the block and to its own update. */
function gather(symbolic: SymbolicFactor, s: number, fronts: Fronts): void {
  const { rowPtr, rows, parent } = symbolic;
  const { place, waiting, board } = fronts;
  const width = widthOf(symbolic, s);
  const columns = tilesOf(width);
  const shift = TILE * columns - width;
  const size = tilesOf(rowPtr[s + 1] - rowPtr[s] - width);
  for (let r = rowPtr[s]; r < rowPtr[s + 1]; r++) place[rows[r]] = r - rowPtr[s] + (r - rowPtr[s] < width ? 0 : shift);
  while (waiting.length > 0 && parent[waiting[waiting.length - 1]] === s) {
    const child = waiting.pop() as number;
    const from = rowPtr[child] + widthOf(symbolic, child);
    const own = tilesOf(rowPtr[child + 1] - from);
    fronts.top -= own * own * TILE_NUMBERS;
    for (let b = from; b < rowPtr[child + 1]; b++) {
      const j = place[rows[b]];
      const source = fronts.top + placeIn(own, 0, b - from);
      const inBlock = j < width;
      const target = inBlock ? board.block : board.update;
      const first = inBlock ? placeIn(columns, 0, j) : placeIn(size, 0, j - TILE * columns);
      const stride = (inBlock ? columns : size) * TILE_NUMBERS;
      const less = inBlock ? 0 : TILE * columns;
      for (let a = b; a < rowPtr[child + 1]; a++) {
        const i = place[rows[a]] - less;
        const k = a - from;
        target[first + (i >> 2) * stride + (i & 3)] += fronts.stack[source + (k >> 2) * own * TILE_NUMBERS + (k & 3)];
      }
    }
  }
}

/** Puts the update at hand on the stack. */
function keep(fronts: Fronts, size: number): void {
  if (fronts.top + size > fronts.stack.length) {
    const larger = new Float64Array(2 * (fronts.top + size));
    larger.set(fronts.stack.subarray(0, fronts.top));
    fronts.stack = larger;
  }
  fronts.stack.set(fronts.board.update.subarray(0, size), fronts.top);
  fronts.top += size;
}
