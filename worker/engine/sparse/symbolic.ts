import { type BlockEntries, blockRows } from './block-rows.ts';
import { columnCounts, eliminationTree, permutedRows, postorder } from './elimination-tree.ts';
import type { SparseMatrix } from './matrix.ts';
import { order } from './minimum-degree.ts';
import { type Supernodes, supernodes } from './supernodes.ts';
import { TILE_NUMBERS, type TileBoard, tileBoard, tilesOf, triangleTiles } from './tiles.ts';

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
  /** Where the entries of the matrix go. */
  readonly entries: BlockEntries;
  /** Entries per column of the pattern that was analysed, and their rows. */
  readonly pattern: Pick<SparseMatrix, 'colPtr' | 'rowIdx'>;
  /** Start of block s in the values of L, in rows of tiles, its own columns' rows padded to whole tiles: blocks.count + 1. */
  readonly valuePtr: Float64Array;
  /** Block that takes the update of block s; -1 where there is none. */
  readonly parent: Int32Array;
  /** Multiplications of the numeric phase, for benchmarks and progress. */
  readonly multiplications: number;
  /** Holds the largest block and the largest update. */
  readonly board: TileBoard;
  /** Holds the updates that wait for their parents. */
  readonly stack: Float64Array;
}

/** Symbolic phase of the Cholesky factor of P A P^T; by default P is the minimum degree order. `poll` is called now and then, and may throw. */
export function analyse(matrix: SparseMatrix, given?: Int32Array, poll: () => void = () => {}): SymbolicFactor {
  const { n } = matrix;
  const permutation = given ?? order(matrix, poll);
  poll();
  const rowPattern = permutedRows(matrix, inverseOf(permutation));
  const tree = eliminationTree(rowPattern);
  const counts = columnCounts(rowPattern, tree);
  poll();
  // Renumbered by postorder, subtrees and so supernodes become runs of columns; the tree and the counts stay what they were.
  const sequence = postorder(tree);
  const place = inverseOf(sequence);
  const final = sequence.map((k) => permutation[k]);
  const inverse = inverseOf(final);
  const columnParent = sequence.map((k) => (tree[k] < 0 ? -1 : place[tree[k]]));
  const blocks = supernodes(
    columnParent,
    sequence.map((k) => counts[k]),
  );
  const parent = new Int32Array(blocks.count);
  for (let s = 0; s < blocks.count; s++) {
    const above = columnParent[blocks.firstColumn[s + 1] - 1];
    parent[s] = above < 0 ? -1 : blocks.of[above];
  }
  const { rowPtr, rows, entries } = blockRows(matrix, inverse, blocks, parent);
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
  const stack = new Float64Array(mostWaiting(blocks, rowPtr, parent));
  const pattern = { colPtr: matrix.colPtr, rowIdx: matrix.rowIdx };
  return { n, permutation: final, inverse, blocks, rowPtr, rows, entries, pattern, valuePtr, parent, multiplications, board, stack };
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

/** Most numbers of updates that wait for their parents at one time. */
function mostWaiting({ count, firstColumn }: Supernodes, rowPtr: Int32Array, parent: Int32Array): number {
  const waiting: number[] = [];
  const numbers = (s: number) => TILE_NUMBERS * triangleTiles(tilesOf(rowPtr[s + 1] - rowPtr[s] - (firstColumn[s + 1] - firstColumn[s])));
  let [now, most] = [0, 0];
  for (let s = 0; s < count; s++) {
    while (waiting.length > 0 && parent[waiting[waiting.length - 1]] === s) now -= numbers(waiting.pop() as number);
    if (parent[s] < 0) continue;
    now += numbers(s);
    most = Math.max(most, now);
    waiting.push(s);
  }
  return most;
}
