import { factorBlock } from './block.ts';
import type { SparseMatrix } from './matrix.ts';
import { type SymbolicFactor, widthOf } from './symbolic.ts';
import { placeInTiles, TILE, TILE_NUMBERS, type TileBoard, tilesOf, triangleTiles } from './tiles.ts';

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

/** Multifrontal work space: the lower tiles of the updates of blocks whose parent has not come yet, one after another. */
interface Fronts {
  readonly board: TileBoard;
  readonly stack: Float64Array;
  top: number;
  readonly waiting: number[];
  /** Row of the block at hand, by row of the matrix, n. */
  readonly place: Int32Array;
  /** Of the rows of the child at hand: its place in column 0 of the child's update, of the block, and of the block's own update. */
  readonly source: Int32Array;
  readonly blockRow: Int32Array;
  readonly updateRow: Int32Array;
}

/**
 * Numeric phase: supernodal multifrontal Cholesky (Duff, Reid 1983; Liu 1992). `matrix` has the pattern that was analysed (RangeError where not).
 * `poll` is called for every tile column, and may throw.
 */
export function factorise(
  symbolic: SymbolicFactor,
  matrix: SparseMatrix,
  poll: () => void = () => {},
): CholeskyFactor | NotPositiveDefinite {
  requirePattern(symbolic, matrix);
  const { n, blocks, rowPtr, valuePtr, permutation, board } = symbolic;
  const values = new Float64Array(valuePtr[blocks.count]);
  const [place, source, blockRow, updateRow] = [0, 1, 2, 3].map(() => new Int32Array(n));
  const fronts: Fronts = { board, stack: symbolic.stack, top: 0, waiting: [], place, source, blockRow, updateRow };
  for (let s = 0; s < blocks.count; s++) {
    poll();
    const columns = tilesOf(widthOf(symbolic, s));
    const size = tilesOf(rowPtr[s + 1] - rowPtr[s] - widthOf(symbolic, s));
    spread(symbolic, s, matrix.values);
    clearLower(board.update, size);
    gather(symbolic, s, fronts);
    const stopped = factorBlock(board, columns, columns + size, poll);
    if (stopped >= 0) {
      const pivot = board.block[placeInTiles(columns, stopped, stopped)];
      return { kind: 'not-positive-definite', column: permutation[blocks.firstColumn[s] + stopped], pivot };
    }
    values.set(board.block.subarray(0, valuePtr[s + 1] - valuePtr[s]), valuePtr[s]);
    if (size === 0) continue;
    board.takeUpdate(columns, size);
    keep(fronts, size);
    fronts.waiting.push(s);
  }
  return { kind: 'factor', symbolic, values, work: new Float64Array(n) };
}

function requirePattern({ n, pattern }: SymbolicFactor, matrix: SparseMatrix): void {
  if (matrix.n !== n) throw new RangeError(`the matrix has ${matrix.n} rows; the pattern analysed has ${n}`);
  const same = (a: Int32Array, b: Int32Array) => a === b || (a.length === b.length && a.every((each, k) => each === b[k]));
  if (!same(pattern.colPtr, matrix.colPtr) || !same(pattern.rowIdx, matrix.rowIdx))
    throw new RangeError('the matrix has entries in other places than the pattern analysed');
}

/** Entries of the matrix into block s on the board; ones on the diagonal where its columns do not fill the last tile. */
function spread(symbolic: SymbolicFactor, s: number, values: Float64Array): void {
  const { valuePtr, board, entries } = symbolic;
  const { block } = board;
  block.fill(0, 0, valuePtr[s + 1] - valuePtr[s]);
  const width = widthOf(symbolic, s);
  const columns = tilesOf(width);
  for (let k = width; k < TILE * columns; k++) block[placeInTiles(columns, k, k)] = 1;
  for (let k = entries.ptr[s]; k < entries.ptr[s + 1]; k++) block[entries.to[k]] = values[entries.from[k]];
}

/** Zeros in the lower tiles of a square of them. */
function clearLower(update: Float64Array, size: number): void {
  for (let i = 0; i < size; i++) update.fill(0, i * size * TILE_NUMBERS, (i * size + i + 1) * TILE_NUMBERS);
}

/** Adds the updates of the children of block s, which wait on top of the stack, to the block and to its own update. */
function gather(symbolic: SymbolicFactor, s: number, fronts: Fronts): void {
  const { rowPtr, rows, parent } = symbolic;
  const { place, waiting } = fronts;
  const width = widthOf(symbolic, s);
  const columns = tilesOf(width);
  const shift = TILE * columns - width;
  const size = tilesOf(rowPtr[s + 1] - rowPtr[s] - width);
  for (let r = rowPtr[s]; r < rowPtr[s + 1]; r++) place[rows[r]] = r - rowPtr[s] + (r - rowPtr[s] < width ? 0 : shift);
  while (waiting.length > 0 && parent[waiting[waiting.length - 1]] === s) {
    const child = waiting.pop() as number;
    const from = rowPtr[child] + widthOf(symbolic, child);
    const count = rowPtr[child + 1] - from;
    fronts.top -= triangleTiles(tilesOf(count)) * TILE_NUMBERS;
    let inBlock = 0;
    for (let k = 0; k < count; k++) {
      const i = place[rows[from + k]];
      if (i < width) inBlock++;
      fronts.source[k] = triangleTiles(k >> 2) * TILE_NUMBERS + (k & 3);
      fronts.blockRow[k] = placeInTiles(columns, i, 0);
      fronts.updateRow[k] = placeInTiles(size, i - TILE * columns, 0);
    }
    for (let b = 0; b < inBlock; b++) addColumn(fronts, b, count, fronts.board.block, fronts.blockRow, place[rows[from + b]]);
    for (let b = inBlock; b < count; b++)
      addColumn(fronts, b, count, fronts.board.update, fronts.updateRow, place[rows[from + b]] - TILE * columns);
  }
}

/** Adds column b of a child's update to column j of the target, whose places are those of `rowPlaces` moved on by the column's. */
function addColumn(fronts: Fronts, b: number, count: number, target: Float64Array, rowPlaces: Int32Array, j: number): void {
  const { stack, source } = fronts;
  const [first, at] = [fronts.top + placeInTiles(0, 0, b), placeInTiles(0, 0, j)];
  for (let a = b; a < count; a++) target[at + rowPlaces[a]] += stack[first + source[a]];
}

/** Puts the lower tiles of the update at hand on the stack. */
function keep(fronts: Fronts, size: number): void {
  const { stack, board } = fronts;
  for (let i = 0; i < size; i++) {
    stack.set(board.update.subarray(i * size * TILE_NUMBERS, (i * size + i + 1) * TILE_NUMBERS), fronts.top);
    fronts.top += (i + 1) * TILE_NUMBERS;
  }
}
