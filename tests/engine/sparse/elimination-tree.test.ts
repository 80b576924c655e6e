import { describe, expect, it } from 'vitest';
import { columnCounts, eliminationTree, permutedRows, postorder } from '../../../worker/engine/sparse/elimination-tree.ts';
import type { SparseMatrix } from '../../../worker/engine/sparse/index.ts';
import { dense, dominant, gridLaplacian } from './matrices.ts';

/** Pattern of L without cancellation, by elimination on the whole matrix. */
function filled(matrix: SparseMatrix): boolean[][] {
  const pattern = dense(matrix).map((row, i) => row.map((value, j) => value !== 0 || i === j));
  for (let k = 0; k < matrix.n; k++)
    for (let i = k + 1; i < matrix.n; i++) if (pattern[i][k]) for (let j = k + 1; j < matrix.n; j++) pattern[i][j] ||= pattern[j][k];
  return pattern;
}

const natural = (n: number) => Int32Array.from({ length: n }, (_, k) => k);

describe('the elimination tree', () => {
  const matrices = [gridLaplacian(6), dominant(40, 2, 1), dominant(50, 3, 2), dominant(30, 0, 3)];

  it('joins each column to the first row below its diagonal in the filled matrix, and counts its rows', () => {
    for (const matrix of matrices) {
      const rows = permutedRows(matrix, natural(matrix.n));
      const parent = eliminationTree(rows);
      const pattern = filled(matrix);
      for (let j = 0; j < matrix.n; j++) expect(parent[j]).toBe(pattern.findIndex((row, i) => i > j && row[j]));
      const counted = natural(matrix.n).map((j) => pattern.filter((row, i) => i >= j && row[j]).length);
      expect(columnCounts(rows, parent)).toEqual(counted);
    }
  });

  it('in postorder has every column after its children, and each subtree in one run', () => {
    for (const matrix of matrices) {
      const parent = eliminationTree(permutedRows(matrix, natural(matrix.n)));
      const place = new Int32Array(matrix.n);
      for (const [k, j] of postorder(parent).entries()) place[j] = k;
      expect([...place].sort((a, b) => a - b)).toEqual([...natural(matrix.n)]);
      const below = new Int32Array(matrix.n).fill(1);
      for (const j of postorder(parent)) if (parent[j] >= 0) below[parent[j]] += below[j];
      for (let j = 0; j < matrix.n; j++) {
        if (parent[j] < 0) continue;
        // The run of j's subtree ends at j, inside the run of its parent's subtree, which ends at the parent.
        expect(place[j]).toBeLessThan(place[parent[j]]);
        expect(place[j] - below[j]).toBeGreaterThanOrEqual(place[parent[j]] - below[parent[j]]);
      }
    }
  });
});
