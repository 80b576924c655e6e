import type { SparseMatrix } from './matrix.ts';
import type { Supernodes } from './supernodes.ts';
import { placeInTiles, TILE, tilesOf } from './tiles.ts';

/** Entries of the matrix by the block of L that takes them: values[from[k]] goes to place to[k] of block s, k in [ptr[s], ptr[s + 1]). */
export interface BlockEntries {
  readonly ptr: Int32Array;
  readonly from: Int32Array;
  readonly to: Int32Array;
}

/** Rows of each block: those of its columns in the matrix, and what its children in the tree pass up. `inverse[j]` is the place of unknown j. */
export function blockRows(matrix: SparseMatrix, inverse: Int32Array, blocks: Supernodes, parent: Int32Array) {
  const { count, firstColumn, rowCount } = blocks;
  const rowPtr = new Int32Array(count + 1);
  for (let s = 0; s < count; s++) rowPtr[s + 1] = rowPtr[s] + rowCount[s];
  const rows = new Int32Array(rowPtr[count]);
  const { ptr, from } = entriesByBlock(matrix, inverse, blocks);
  const { columns, rowsBelow } = placesOf(matrix, inverse);
  const to = new Int32Array(from.length);
  const { firstChild, sibling } = childrenOf(parent);
  const mark = new Int32Array(matrix.n).fill(-1);
  const place = new Int32Array(matrix.n);
  for (let s = 0; s < count; s++) {
    const end = firstColumn[s + 1];
    const width = end - firstColumn[s];
    let at = rowPtr[s];
    for (let j = firstColumn[s]; j < end; j++) rows[at++] = j;
    const add = (row: number) => {
      if (row < end || mark[row] === s) return;
      mark[row] = s;
      rows[at++] = row;
    };
    for (let child = firstChild[s]; child >= 0; child = sibling[child])
      for (let r = rowPtr[child] + firstColumn[child + 1] - firstColumn[child]; r < rowPtr[child + 1]; r++) add(rows[r]);
    for (let k = ptr[s]; k < ptr[s + 1]; k++) add(rowsBelow[from[k]]);
    rows.subarray(rowPtr[s] + width, at).sort();
    const tiles = tilesOf(width);
    for (let r = rowPtr[s]; r < at; r++) place[rows[r]] = r - rowPtr[s] + (r - rowPtr[s] < width ? 0 : TILE * tiles - width);
    for (let k = ptr[s]; k < ptr[s + 1]; k++) to[k] = placeInTiles(tiles, place[rowsBelow[from[k]]], columns[from[k]] - firstColumn[s]);
  }
  return { rowPtr, rows, entries: { ptr, from, to } satisfies BlockEntries };
}

/** Column and row of every entry in the permuted lower triangle. */
function placesOf({ n, colPtr, rowIdx }: SparseMatrix, inverse: Int32Array) {
  const [columns, rowsBelow] = [new Int32Array(rowIdx.length), new Int32Array(rowIdx.length)];
  for (let j = 0; j < n; j++) {
    for (let p = colPtr[j]; p < colPtr[j + 1]; p++) {
      const [a, b] = [inverse[j], inverse[rowIdx[p]]];
      columns[p] = Math.min(a, b);
      rowsBelow[p] = Math.max(a, b);
    }
  }
  return { columns, rowsBelow };
}

/** A counting sort of the entries by the block of their permuted column. */
function entriesByBlock({ n, colPtr, rowIdx }: SparseMatrix, inverse: Int32Array, { count, of }: Supernodes) {
  const ptr = new Int32Array(count + 1);
  const each = (take: (s: number, p: number) => void) => {
    for (let j = 0; j < n; j++) for (let p = colPtr[j]; p < colPtr[j + 1]; p++) take(of[Math.min(inverse[j], inverse[rowIdx[p]])], p);
  };
  each((s) => ptr[s + 1]++);
  for (let s = 0; s < count; s++) ptr[s + 1] += ptr[s];
  const next = ptr.slice(0, count);
  const from = new Int32Array(rowIdx.length);
  each((s, p) => (from[next[s]++] = p));
  return { ptr, from };
}

function childrenOf(parent: Int32Array) {
  const [firstChild, sibling] = [new Int32Array(parent.length).fill(-1), new Int32Array(parent.length).fill(-1)];
  for (let s = parent.length - 1; s >= 0; s--) {
    if (parent[s] < 0) continue;
    sibling[s] = firstChild[parent[s]];
    firstChild[parent[s]] = s;
  }
  return { firstChild, sibling };
}
