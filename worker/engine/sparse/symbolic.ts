import { columnCounts, eliminationTree, permutedRows, postorder } from './elimination-tree.ts';
import type { SparseMatrix } from './matrix.ts';
import { order } from './minimum-degree.ts';
import { type Supernodes, supernodes } from './supernodes.ts';
import { TILE_NUMBERS, type TileBoard, tileBoard, tilesOf } from './tiles.ts';

/** All that the numeric phase needs to know of a pattern, and the place where it works; serves every matrix of that pattern, one after another. */
export interface SymbolicFactor {
  readonly n: number;
  /** permutation[k] is the unknown eliminated k-th; inverse[j] is when unknown j is. */
  readonly permutation: Int32Array;
  readonly inverse: Int32Array;
  readonly blocks: Supernodes;
  /** Rows of block s, its own columns first, ascending: rows[rowPtr[s] .. rowPtr[s + 1]). */
  readonly rowPtr: Int32Array;
  readonly rows: Int32Array;
  /** Start of block s in the values of L, in rows of tiles, its own columns' rows padded to whole tiles: blocks.count + 1. */
  readonly valuePtr: Float64Array;
  /** Block that takes the update of block s; -1 where there is none. */
  readonly parent: Int32Array;
  /** Multiplications of the numeric phase, for benchmarks and progress. */
  readonly multiplications: number;
  /** Holds the largest block and the largest update. */
  readonly board: TileBoard;
}

/** Symbolic phase of the Cholesky factor of P A P^T; by default P is the minimum degree order. `poll` is called now and then, and may throw. */
export function analyse(matrix: SparseMatrix, given?: Int32Array, poll: () => void = () => {}): SymbolicFactor {
  const { n } = matrix;
  const permutation = given ?? order(matrix, poll);
  poll();
  const tree = eliminationTree(permutedRows(matrix, inverseOf(permutation)));
  // Renumbered by postorder, subtrees and so supernodes become runs of columns; fill stays what it was.
  const sequence = postorder(tree);
  const final = Int32Array.from(sequence, (k) => permutation[k]);
  const inverse = inverseOf(final);
  const rowPattern = permutedRows(matrix, inverse);
  const columnParent = eliminationTree(rowPattern);
  poll();
  const blocks = supernodes(columnParent, columnCounts(rowPattern, columnParent));
  const parent = new Int32Array(blocks.count);
  for (let s = 0; s < blocks.count; s++) {
    const above = columnParent[blocks.firstColumn[s + 1] - 1];
    parent[s] = above < 0 ? -1 : blocks.of[above];
  }
  const { rowPtr, rows } = blockRows(matrix, inverse, blocks, parent);
  poll();
  const valuePtr = new Float64Array(blocks.count + 1);
  let multiplications = 0;
  let largestBlock = 0;
  let largestUpdate = 0;
  for (let s = 0; s < blocks.count; s++) {
    const [width, height] = [blocks.firstColumn[s + 1] - blocks.firstColumn[s], rowPtr[s + 1] - rowPtr[s]];
    const [columns, size] = [tilesOf(width), tilesOf(height - width)];
    const numbers = columns * (columns + size) * TILE_NUMBERS;
    valuePtr[s + 1] = valuePtr[s] + numbers;
    largestBlock = Math.max(largestBlock, numbers);
    largestUpdate = Math.max(largestUpdate, size * size * TILE_NUMBERS);
    for (let k = 0; k < width; k++) multiplications += ((height - k) * (height - k + 1)) / 2;
  }
  const board = tileBoard(largestBlock, largestUpdate);
  return { n, permutation: final, inverse, blocks, rowPtr, rows, valuePtr, parent, multiplications, board };
}

/** Columns of block s. */
export const widthOf = ({ blocks }: SymbolicFactor, s: number): number => blocks.firstColumn[s + 1] - blocks.firstColumn[s];

function inverseOf(permutation: Int32Array): Int32Array {
  const inverse = new Int32Array(permutation.length).fill(-1);
  for (let k = 0; k < permutation.length; k++) {
    const j = permutation[k];
    if (!(j >= 0 && j < permutation.length) || inverse[j] !== -1)
      throw new RangeError(`permutation[${k}] is ${j}; allowed: each of 0 to ${permutation.length - 1} once`);
    inverse[j] = k;
  }
  return inverse;
}

/** Rows of each block: those of its columns in the matrix, and what its children in the tree pass up. */
function blockRows(matrix: SparseMatrix, inverse: Int32Array, { count, firstColumn, of }: Supernodes, parent: Int32Array) {
  const lists: number[][] = Array.from({ length: count }, () => []);
  const mark = new Int32Array(matrix.n).fill(-1);
  const own: number[][] = Array.from({ length: count }, () => []);
  for (let j = 0; j < matrix.n; j++) {
    for (let p = matrix.colPtr[j]; p < matrix.colPtr[j + 1]; p++) {
      const [a, b] = [inverse[j], inverse[matrix.rowIdx[p]]];
      own[of[Math.min(a, b)]].push(Math.max(a, b));
    }
  }
  for (let s = 0; s < count; s++) {
    const end = firstColumn[s + 1];
    const list = lists[s];
    const add = (row: number) => {
      if (row < end || mark[row] === s) return;
      mark[row] = s;
      list.push(row);
    };
    // What children passed up was put into the list before; it is gone through again to mark and to drop doubles.
    const passed = list.splice(0);
    for (const row of passed) add(row);
    for (const row of own[s]) add(row);
    list.sort((a, b) => a - b);
    if (parent[s] >= 0) lists[parent[s]].push(...list);
  }
  const rowPtr = new Int32Array(count + 1);
  for (let s = 0; s < count; s++) rowPtr[s + 1] = rowPtr[s] + firstColumn[s + 1] - firstColumn[s] + lists[s].length;
  const rows = new Int32Array(rowPtr[count]);
  for (let s = 0; s < count; s++) {
    let at = rowPtr[s];
    for (let j = firstColumn[s]; j < firstColumn[s + 1]; j++) rows[at++] = j;
    rows.set(lists[s], at);
  }
  return { rowPtr, rows };
}
