/**
 * A symmetric matrix in compressed columns: the lower triangle with its diagonal, rows ascending within each column. Entries of column j are
 * `rowIdx` and `values` [colPtr[j], colPtr[j + 1]).
 */
export interface SparseMatrix {
  readonly n: number;
  /** n + 1 */
  readonly colPtr: Int32Array;
  /** nnz */
  readonly rowIdx: Int32Array;
  /** nnz */
  readonly values: Float64Array;
}

/**
 * The matrix of n rows whose entries are the given triplets: duplicates are summed, an entry above the diagonal counts as its mirror below. So each
 * pair of unknowns is to be given once (or split between its two mirrors), not twice.
 */
export function fromTriplets(n: number, rows: ArrayLike<number>, cols: ArrayLike<number>, values: ArrayLike<number>): SparseMatrix {
  const count = values.length;
  // Two stable counting sorts, by row and then by column, leave every column in ascending rows.
  const byRow = sorted(n, count, (t) => Math.max(rows[t], cols[t]));
  const byColumn = sorted(n, count, (k) => Math.min(rows[byRow[k]], cols[byRow[k]]));
  const colPtr = new Int32Array(n + 1);
  const rowIdx = new Int32Array(count);
  const summed = new Float64Array(count);
  let nnz = 0;
  let column = -1;
  for (let k = 0; k < count; k++) {
    const t = byRow[byColumn[k]];
    const [row, col] = [Math.max(rows[t], cols[t]), Math.min(rows[t], cols[t])];
    if (col === column && rowIdx[nnz - 1] === row) {
      summed[nnz - 1] += values[t];
      continue;
    }
    while (column < col) colPtr[++column] = nnz;
    rowIdx[nnz] = row;
    summed[nnz++] = values[t];
  }
  while (column < n) colPtr[++column] = nnz;
  return { n, colPtr, rowIdx: rowIdx.slice(0, nnz), values: summed.slice(0, nnz) };
}

/** Positions 0..count-1 in ascending order of a key in 0..n-1, equal keys in the order they stand. */
function sorted(n: number, count: number, key: (position: number) => number): Int32Array {
  const next = new Int32Array(n + 1);
  for (let t = 0; t < count; t++) next[key(t) + 1]++;
  for (let i = 0; i < n; i++) next[i + 1] += next[i];
  const order = new Int32Array(count);
  for (let t = 0; t < count; t++) order[next[key(t)]++] = t;
  return order;
}

/** y = A x; x and y hold n numbers and are not the same array. */
export function multiply({ n, colPtr, rowIdx, values }: SparseMatrix, x: Float64Array, y: Float64Array): void {
  y.fill(0);
  for (let j = 0; j < n; j++) {
    const xj = x[j];
    let sum = 0;
    for (let p = colPtr[j]; p < colPtr[j + 1]; p++) {
      const i = rowIdx[p];
      sum += values[p] * x[i];
      if (i !== j) y[i] += values[p] * xj;
    }
    y[j] += sum;
  }
}

/** a A + b B of two matrices of one size, over the union of their patterns. */
export function combine(a: number, A: SparseMatrix, b: number, B: SparseMatrix): SparseMatrix {
  if (A.n !== B.n) throw new RangeError(`matrices of ${A.n} and ${B.n} rows cannot be added`);
  const colPtr = new Int32Array(A.n + 1);
  const rowIdx = new Int32Array(A.values.length + B.values.length);
  const values = new Float64Array(rowIdx.length);
  let nnz = 0;
  for (let j = 0; j < A.n; j++) {
    let [p, q] = [A.colPtr[j], B.colPtr[j]];
    const [pEnd, qEnd] = [A.colPtr[j + 1], B.colPtr[j + 1]];
    while (p < pEnd || q < qEnd) {
      const [i, k] = [p < pEnd ? A.rowIdx[p] : A.n, q < qEnd ? B.rowIdx[q] : A.n];
      rowIdx[nnz] = Math.min(i, k);
      values[nnz++] = (i <= k ? a * A.values[p++] : 0) + (k <= i ? b * B.values[q++] : 0);
    }
    colPtr[j + 1] = nnz;
  }
  return { n: A.n, colPtr, rowIdx: rowIdx.slice(0, nnz), values: values.slice(0, nnz) };
}

/** Rows and columns `keep` (ascending) of a matrix, renumbered in that order. */
export function submatrix({ n, colPtr, rowIdx, values }: SparseMatrix, keep: Int32Array): SparseMatrix {
  const place = new Int32Array(n).fill(-1);
  for (let k = 0; k < keep.length; k++) place[keep[k]] = k;
  const ptr = new Int32Array(keep.length + 1);
  const rows = new Int32Array(rowIdx.length);
  const kept = new Float64Array(values.length);
  let nnz = 0;
  for (let k = 0; k < keep.length; k++) {
    for (let p = colPtr[keep[k]]; p < colPtr[keep[k] + 1]; p++) {
      if (place[rowIdx[p]] < 0) continue;
      rows[nnz] = place[rowIdx[p]];
      kept[nnz++] = values[p];
    }
    ptr[k + 1] = nnz;
  }
  return { n: keep.length, colPtr: ptr, rowIdx: rows.slice(0, nnz), values: kept.slice(0, nnz) };
}
