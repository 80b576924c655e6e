import type { SparseMatrix } from './matrix.ts';

/** The graph of a matrix with unknowns that have the same neighbours taken as one vertex. */
export interface CompressedGraph {
  readonly vertexCount: number;
  /** Vertex of each unknown, n. */
  readonly vertexOf: Int32Array;
  /** Unknowns in each vertex, vertexCount. */
  readonly weight: Int32Array;
  /** Neighbours of each vertex, without itself. */
  readonly neighbours: number[][];
}

/**
 * Joins indistinguishable columns (the six unknowns of a node are), so that an ordering works on nodes, not on unknowns. Columns whose neighbours
 * add up to the same sum are compared one by one (Ashcraft 1995).
 */
export function compressedGraph(matrix: SparseMatrix): CompressedGraph {
  const { ptr, idx } = symmetricPattern(matrix);
  const n = matrix.n;
  const vertexOf = new Int32Array(n).fill(-1);
  const first: number[] = [];
  const bySum = new Map<number, number[]>();
  for (let j = 0; j < n; j++) {
    let sum = 0;
    for (let p = ptr[j]; p < ptr[j + 1]; p++) sum += idx[p];
    const alike = bySum.get(sum) ?? [];
    const vertex = alike.find((v) => equalColumns(ptr, idx, first[v], j));
    vertexOf[j] = vertex ?? first.length;
    if (vertex !== undefined) continue;
    bySum.set(sum, [...alike, first.length]);
    first.push(j);
  }
  const weight = new Int32Array(first.length);
  for (const v of vertexOf) weight[v]++;
  const seen = new Int32Array(first.length).fill(-1);
  const neighbours = first.map((j, v) => {
    const list: number[] = [];
    seen[v] = v;
    for (let p = ptr[j]; p < ptr[j + 1]; p++) {
      const other = vertexOf[idx[p]];
      if (seen[other] === v) continue;
      seen[other] = v;
      list.push(other);
    }
    return list;
  });
  return { vertexCount: first.length, vertexOf, weight, neighbours };
}

function equalColumns(ptr: Int32Array, idx: Int32Array, a: number, b: number): boolean {
  const length = ptr[a + 1] - ptr[a];
  if (ptr[b + 1] - ptr[b] !== length) return false;
  for (let k = 0; k < length; k++) if (idx[ptr[a] + k] !== idx[ptr[b] + k]) return false;
  return true;
}

/** Rows of every column of the whole matrix, diagonal included whether stored or not, ascending. */
function symmetricPattern({ n, colPtr, rowIdx }: SparseMatrix): { ptr: Int32Array; idx: Int32Array } {
  const ptr = new Int32Array(n + 1);
  for (let j = 0; j < n; j++) {
    ptr[j + 1]++;
    for (let p = colPtr[j]; p < colPtr[j + 1]; p++) {
      if (rowIdx[p] === j) continue;
      ptr[j + 1]++;
      ptr[rowIdx[p] + 1]++;
    }
  }
  for (let j = 0; j < n; j++) ptr[j + 1] += ptr[j];
  const idx = new Int32Array(ptr[n]);
  const next = ptr.slice(0, n);
  // Column by column, so that each list receives what is above its diagonal in ascending order before its own rows.
  for (let j = 0; j < n; j++) {
    idx[next[j]++] = j;
    for (let p = colPtr[j]; p < colPtr[j + 1]; p++) {
      const i = rowIdx[p];
      if (i === j) continue;
      idx[next[j]++] = i;
      idx[next[i]++] = j;
    }
  }
  return { ptr, idx };
}
