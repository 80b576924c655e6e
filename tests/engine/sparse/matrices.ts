import { fromTriplets, type SparseMatrix } from '../../../worker/engine/sparse/index.ts';

/** Small seeded generator (mulberry32), for tests. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** The five-point Laplacian of a side x side grid with zero boundary values; h = 1. */
export function gridLaplacian(side: number): SparseMatrix {
  const [rows, cols, values]: number[][] = [[], [], []];
  const add = (i: number, j: number, value: number) => {
    rows.push(i);
    cols.push(j);
    values.push(value);
  };
  for (let y = 0; y < side; y++) {
    for (let x = 0; x < side; x++) {
      const k = y * side + x;
      add(k, k, 4);
      if (x > 0) add(k, k - 1, -1);
      if (y > 0) add(k, k - side, -1);
    }
  }
  return fromTriplets(side * side, rows, cols, values);
}

/** A random symmetric, diagonally dominant matrix with about `perRow` entries a row. */
export function dominant(n: number, perRow: number, seed: number): SparseMatrix {
  const random = seeded(seed);
  const [rows, cols, values]: number[][] = [[], [], []];
  const diagonal = new Float64Array(n).fill(1e-3);
  for (let k = 0; k < (n * perRow) / 2; k++) {
    const [i, j, value] = [Math.floor(random() * n), Math.floor(random() * n), random() - 0.5];
    if (i === j) continue;
    rows.push(i);
    cols.push(j);
    values.push(value);
    diagonal[i] += Math.abs(value);
    diagonal[j] += Math.abs(value);
  }
  for (let i = 0; i < n; i++) {
    rows.push(i);
    cols.push(i);
    values.push(diagonal[i]);
  }
  return fromTriplets(n, rows, cols, values);
}

/** The whole matrix, row by row. */
export function dense({ n, colPtr, rowIdx, values }: SparseMatrix): number[][] {
  const full = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  for (let j = 0; j < n; j++) {
    for (let p = colPtr[j]; p < colPtr[j + 1]; p++) {
      full[rowIdx[p]][j] = values[p];
      full[j][rowIdx[p]] = values[p];
    }
  }
  return full;
}

export const vector = (n: number, seed: number): Float64Array => {
  const random = seeded(seed);
  return Float64Array.from({ length: n }, () => random() - 0.5);
};
