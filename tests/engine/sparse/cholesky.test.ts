import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import {
  analyse,
  type CholeskyFactor,
  combine,
  factorise,
  fromTriplets,
  multiply,
  order,
  refine,
  type SparseMatrix,
  solve,
} from '../../../worker/engine/sparse/index.ts';
import { dense, dominant, gridLaplacian, vector } from './matrices.ts';

function factorOf(matrix: SparseMatrix, permutation?: Int32Array): CholeskyFactor {
  const factor = factorise(analyse(matrix, permutation), matrix);
  if (factor.kind !== 'factor') throw new Error(`pivot ${factor.pivot} at ${factor.column}`);
  return factor;
}

/** Largest |b - A x| over (|A| |x| + |b|), the componentwise backward error (Oettli, Prager 1964). */
function backwardError(matrix: SparseMatrix, x: Float64Array, b: Float64Array): number {
  const absolute = { ...matrix, values: matrix.values.map(Math.abs) };
  const [residual, size] = [new Float64Array(matrix.n), new Float64Array(matrix.n)];
  multiply(matrix, x, residual);
  multiply(absolute, x.map(Math.abs), size);
  return Math.max(...residual.map((each, i) => Math.abs(b[i] - each) / (size[i] + Math.abs(b[i]))));
}

describe('triplets', () => {
  it('sum duplicates, mirror what is above the diagonal and sort the rows', () => {
    const matrix = fromTriplets(3, [2, 0, 1, 2, 0], [0, 2, 1, 0, 0], [1, 2, 5, 4, 3]);
    expect(dense(matrix)).toEqual([
      [3, 0, 7],
      [0, 5, 0],
      [7, 0, 0],
    ]);
    expect([...matrix.rowIdx]).toEqual([0, 2, 1]);
  });

  it('combine to the sum of two matrices', () => {
    const [A, B] = [dominant(30, 4, 1), dominant(30, 6, 2)];
    const [a, b] = [dense(A), dense(B)];
    expect(dense(combine(2, A, -3, B))).toEqual(a.map((row, i) => row.map((value, j) => 2 * value - 3 * b[i][j])));
  });
});

describe('the minimum degree order', () => {
  it('is a permutation, and keeps unknowns with the same neighbours together', () => {
    const grid = gridLaplacian(9);
    // Every grid point becomes three unknowns, all joined.
    const [rows, cols, values]: number[][] = [[], [], []];
    for (let j = 0; j < grid.n; j++)
      for (let p = grid.colPtr[j]; p < grid.colPtr[j + 1]; p++)
        for (let a = 0; a < 3; a++)
          for (let b = 0; b < 3; b++) {
            if (grid.rowIdx[p] === j && b > a) continue;
            rows.push(3 * grid.rowIdx[p] + a);
            cols.push(3 * j + b);
            values.push(1);
          }
    const permutation = order(fromTriplets(3 * grid.n, rows, cols, values));
    expect([...permutation].sort((a, b) => a - b)).toEqual(Array.from({ length: 3 * grid.n }, (_, i) => i));
    for (let k = 0; k < permutation.length; k += 3)
      expect(new Set([...permutation.slice(k, k + 3)].map((j) => Math.floor(j / 3))).size).toBe(1);
  });

  it('makes no fill in a tree, nor in an arrow whose head came first', () => {
    const n = 50;
    const spokes = Array.from({ length: n - 1 }, (_, k) => k + 1);
    const diagonal = Array.from({ length: n }, (_, k) => k);
    const arrow = fromTriplets(
      n,
      [...diagonal, ...spokes],
      [...diagonal, ...spokes.map(() => 0)],
      [...diagonal.map(() => n), ...spokes.map(() => 1)],
    );
    const natural = analyse(arrow, Int32Array.from(diagonal)).multiplications;
    // The head last: every column but the last two holds its diagonal and one entry; the natural order fills everything.
    expect(analyse(arrow).multiplications).toBeLessThan(n * 12);
    expect(natural).toBeGreaterThan((n * n * n) / 7);
  });

  it('fills a grid less than half as much as the natural order', () => {
    const grid = gridLaplacian(40);
    const natural = analyse(
      grid,
      Int32Array.from({ length: grid.n }, (_, k) => k),
    ).multiplications;
    expect(analyse(grid).multiplications).toBeLessThan(natural / 2);
  });
});

describe('the Cholesky factor', () => {
  it('solves what a dense factor solves, for many sizes and patterns', () => {
    for (const [n, perRow] of [
      [1, 0],
      [2, 1],
      [17, 3],
      [60, 2],
      [61, 8],
      [120, 30],
    ]) {
      const matrix = dominant(n, perRow, 7 * n + perRow);
      const b = vector(n, n);
      const x = new Float64Array(n);
      solve(factorOf(matrix), b, x);
      const expected = new CholeskyDecomposition(new Matrix(dense(matrix))).solve(Matrix.columnVector([...b]));
      // Both are backward stable; the condition of these matrices is below 1e4.
      for (let i = 0; i < n; i++) expect(Math.abs(x[i] - expected.get(i, 0))).toBeLessThan(1e-10 * (1 + Math.abs(x[i])));
    }
  });

  it('is the factor of the permuted matrix, whatever the permutation', () => {
    const matrix = dominant(80, 5, 11);
    const b = vector(80, 3);
    const [x, y] = [new Float64Array(80), new Float64Array(80)];
    solve(factorOf(matrix), b, x);
    solve(
      factorOf(
        matrix,
        Int32Array.from({ length: 80 }, (_, k) => (37 * k + 5) % 80),
      ),
      b,
      y,
    );
    for (let i = 0; i < 80; i++) expect(Math.abs(x[i] - y[i])).toBeLessThan(1e-11 * (1 + Math.abs(x[i])));
  });

  it('leaves a backward error of a few roundings on a grid of 10 000 unknowns', () => {
    const grid = gridLaplacian(100);
    const b = vector(grid.n, 5);
    const x = new Float64Array(grid.n);
    const factor = factorOf(grid);
    solve(factor, b, x);
    // The bound is 3 n eps in theory; in practice errors add up like a walk and stay below a hundred roundings.
    expect(backwardError(grid, x, b)).toBeLessThan(100 * Number.EPSILON);
    refine(factor, grid, b, x);
    expect(backwardError(grid, x, b)).toBeLessThan(4 * Number.EPSILON);
  });

  it('serves another matrix of the same pattern without a new analysis', () => {
    const grid = gridLaplacian(12);
    const symbolic = analyse(grid);
    const shifted = { ...grid, values: grid.values.map((value) => (value === 4 ? 5 : value)) };
    const factor = factorise(symbolic, shifted);
    if (factor.kind !== 'factor') throw new Error('not positive definite');
    const b = vector(grid.n, 9);
    const x = new Float64Array(grid.n);
    solve(factor, b, x);
    expect(backwardError(shifted, x, b)).toBeLessThan(100 * Number.EPSILON);
  });

  it('refuses a matrix with one negative direction, and names the unknown', () => {
    const grid = gridLaplacian(10);
    for (const column of [0, 37, 99]) {
      const values = grid.values.slice();
      values[grid.colPtr[column]] = -1;
      const factor = factorise(analyse(grid), { ...grid, values });
      // A negative diagonal entry gives its own pivot a negative value before any other is reached that depends on it.
      expect(factor).toMatchObject({ kind: 'not-positive-definite', column });
      expect(factor.kind === 'not-positive-definite' && factor.pivot).toBeLessThan(0);
    }
  });

  it('stops at the pivot where elimination by hand stops, though every diagonal entry is positive', () => {
    const natural = (n: number) => Int32Array.from({ length: n }, (_, k) => k);
    const pair = fromTriplets(2, [0, 1, 1], [0, 0, 1], [1, 2, 1]);
    expect(factorise(analyse(pair, natural(2)), pair)).toEqual({ kind: 'not-positive-definite', column: 1, pivot: -3 });
    // Pivots of a chain 1, x, x, ...: d_k = 1 - x^2 / d_(k-1); with x = 0.6 they are 1, 0.64, 0.4375, 0.177.., then below zero, at every place in a tile.
    for (const before of [0, 1, 2, 3, 4, 9]) {
      const n = before + 6;
      const chain = natural(5);
      const rows = [...natural(n), ...chain.map((k) => before + k + 1)];
      const matrix = fromTriplets(
        n,
        rows,
        [...natural(n), ...chain.map((k) => before + k)],
        rows.map((_, k) => (k < n ? 1 : 0.6)),
      );
      const found = factorise(analyse(matrix, natural(n)), matrix);
      const pivot = 1 - 0.36 / (1 - 0.36 / (1 - 0.36 / (1 - 0.36)));
      if (found.kind !== 'not-positive-definite') throw new Error(found.kind);
      expect(found.column).toBe(before + 4);
      // A few roundings, enlarged by 1 / 0.177.
      expect(found.pivot).toBeCloseTo(pivot, 13);
    }
  });

  it('factors full matrices of every width, whole tiles or not', () => {
    for (let n = 1; n <= 14; n++) {
      const matrix = dominant(n, 8 * n, n);
      const b = vector(n, n);
      const x = new Float64Array(n);
      solve(factorOf(matrix), b, x);
      expect(backwardError(matrix, x, b)).toBeLessThan(4 * n * Number.EPSILON);
    }
  });

  it('takes room and work in proportion to a chain, as long as it may be', () => {
    const work = [500, 1000].map((n) => {
      const places = Array.from({ length: n }, (_, k) => k);
      const links = places.slice(1);
      const chain = fromTriplets(
        n,
        [...places, ...links],
        [...places, ...links.map((k) => k - 1)],
        [...places.map(() => 2), ...links.map(() => -1)],
      );
      const { multiplications, valuePtr, blocks } = analyse(chain);
      return [multiplications, valuePtr[blocks.count]];
    });
    // Twice as long, twice as much, but for the blocks at the ends.
    for (const k of [0, 1]) expect(work[1][k] / work[0][k]).toBeCloseTo(2, 1);
  });

  it('serves one matrix after another without disturbing earlier factors', () => {
    const grid = gridLaplacian(15);
    const symbolic = analyse(grid);
    const [b, before, after] = [vector(grid.n, 2), new Float64Array(grid.n), new Float64Array(grid.n)];
    const factor = factorise(symbolic, grid);
    if (factor.kind !== 'factor') throw new Error(factor.kind);
    solve(factor, b, before);
    factorise(symbolic, { ...grid, values: grid.values.map((value) => 3 * value) });
    solve(factor, b, after);
    expect(after).toEqual(before);
  });

  it('refuses a matrix of another pattern than it analysed', () => {
    const symbolic = analyse(gridLaplacian(4));
    expect(() => factorise(symbolic, gridLaplacian(3))).toThrow('the matrix has 9 rows; the pattern analysed has 16');
    expect(() => factorise(symbolic, dominant(16, 20, 1))).toThrow('entries in other places');
  });

  it('refuses what is not a number', () => {
    const grid = gridLaplacian(4);
    const factor = factorise(analyse(grid), { ...grid, values: grid.values.map((value, k) => (k === 7 ? Number.NaN : value)) });
    expect(factor.kind).toBe('not-positive-definite');
  });

  it('refuses a permutation that is none, with the entry', () => {
    expect(() => analyse(gridLaplacian(2), Int32Array.of(0, 1, 1, 3))).toThrow('permutation[2] is 1; allowed: each of 0 to 3 once');
  });
});
