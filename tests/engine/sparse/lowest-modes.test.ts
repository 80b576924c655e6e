import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import {
  analyse,
  blockLanczos,
  combine,
  factorise,
  fromTriplets,
  lowestModes,
  type Modes,
  multiply,
  type SparseMatrix,
  solve,
  submatrix,
} from '../../../worker/engine/sparse/index.ts';
import { dense, dominant, gridLaplacian, seeded } from './matrices.ts';

const OPTIONS = { count: 10, shift: -1, seed: 1, tolerance: 1e-9 };

const identity = (n: number): SparseMatrix => diagonal(Array.from({ length: n }, () => 1));

function diagonal(values: number[]): SparseMatrix {
  const places = values.map((_, i) => i);
  return fromTriplets(values.length, places, places, values);
}

/** The second difference on a ring: eigenvalues 2 - 2 cos(2 pi k / n), all but the ends in pairs. */
function ring(n: number): SparseMatrix {
  const places = Array.from({ length: n }, (_, i) => i);
  return fromTriplets(
    n,
    [...places, ...places],
    [...places, ...places.map((i) => (i + 1) % n)],
    [...places.map(() => 2), ...places.map(() => -1)],
  );
}

/** The seven-point Laplacian of a cube of side^3 points with zero boundary values. */
function cube(side: number): SparseMatrix {
  const [rows, cols, values]: number[][] = [[], [], []];
  const add = (i: number, j: number, value: number) => {
    rows.push(i);
    cols.push(j);
    values.push(value);
  };
  for (let k = 0; k < side ** 3; k++) {
    add(k, k, 6);
    for (const step of [1, side, side * side]) if (Math.floor(k / step) % side > 0) add(k, k - step, -1);
  }
  return fromTriplets(side ** 3, rows, cols, values);
}

function modesOf(found: ReturnType<typeof lowestModes>): Modes {
  if (found.kind !== 'modes') throw new Error(found.kind);
  return found;
}

/** Largest |x_i^T M x_j - (1 if i = j)|. */
function unorthogonality({ vectors }: Modes, mass: SparseMatrix): number {
  let largest = 0;
  const product = new Float64Array(mass.n);
  for (let i = 0; i < vectors.length; i++) {
    multiply(mass, vectors[i], product);
    for (let j = 0; j < vectors.length; j++) {
      const share = product.reduce((sum, each, k) => sum + each * vectors[j][k], 0);
      largest = Math.max(largest, Math.abs(share - (i === j ? 1 : 0)));
    }
  }
  return largest;
}

/** An eigenvalue is off by the square of its residual over the gap, and by the rounding of a solve: far below this. */
const CLOSE = 1e-9;

function expectSpectrum(found: Modes, expected: number[]) {
  for (const [k, value] of expected.entries())
    expect(Math.abs(found.eigenvalues[k] - value), `mode ${k}`).toBeLessThan(CLOSE * (1 + value));
}

describe('the lowest modes', () => {
  it('of a grid are those of the closed form, doubles and all', () => {
    const side = 18;
    const found = modesOf(lowestModes(gridLaplacian(side), identity(side * side), OPTIONS));
    const axis = Array.from({ length: side }, (_, k) => 4 * Math.sin(((k + 1) * Math.PI) / (2 * (side + 1))) ** 2);
    const expected = axis.flatMap((a) => axis.map((b) => a + b)).sort((a, b) => a - b);
    expectSpectrum(found, expected.slice(0, 10));
    expect(found.residuals.every((each) => each <= OPTIONS.tolerance)).toBe(true);
    expect(unorthogonality(found, identity(side * side))).toBeLessThan(1e-12);
  });

  it('of a cube are found as often as they occur: once, thrice, thrice, thrice, once, six times', () => {
    const side = 8;
    const found = modesOf(lowestModes(cube(side), identity(side ** 3), { ...OPTIONS, count: 17 }));
    const axis = Array.from({ length: side }, (_, k) => 4 * Math.sin(((k + 1) * Math.PI) / (2 * (side + 1))) ** 2);
    const expected = axis.flatMap((a) => axis.flatMap((b) => axis.map((c) => a + b + c))).sort((a, b) => a - b);
    expectSpectrum(found, expected.slice(0, 17));
  });

  it('of a free ring begin with zero', () => {
    const found = modesOf(lowestModes(ring(60), identity(60), { ...OPTIONS, shift: -0.01 }));
    const expected = Array.from({ length: 60 }, (_, k) => 2 - 2 * Math.cos((2 * Math.PI * k) / 60)).sort((a, b) => a - b);
    expectSpectrum(found, expected.slice(0, 10));
  });

  it('are complete though an eigenvalue is there more often than the block is wide', () => {
    // Six vectors that start together span six of each space, and are exhausted after three products; the others need a fresh start.
    const diagonals = diagonal(Array.from({ length: 40 }, (_, k) => (k < 12 ? 1 : k < 25 ? 2 : 3)));
    const found = modesOf(lowestModes(diagonals, identity(40), { ...OPTIONS, count: 20 }));
    expectSpectrum(found, [...new Array(12).fill(1), ...new Array(8).fill(2)]);
  });

  it('with a mass that is not diagonal are those of the dense problem', () => {
    const n = 60;
    const [K, M] = [dominant(n, 4, 3), combine(1, dominant(n, 3, 4), 1, identity(n))];
    const found = modesOf(lowestModes(K, M, { ...OPTIONS, count: 6, shift: 0 }));
    // M = S S with the dense square root of M, so S^-1 K S^-1 has the same eigenvalues.
    const mass = new EigenvalueDecomposition(new Matrix(dense(M)), { assumeSymmetric: true });
    const root = mass.eigenvectorMatrix.clone();
    const inverse = root.mmul(Matrix.diag(mass.realEigenvalues.map((each) => 1 / Math.sqrt(each)))).mmul(root.transpose());
    const plain = new EigenvalueDecomposition(inverse.mmul(new Matrix(dense(K))).mmul(inverse), { assumeSymmetric: true });
    expectSpectrum(found, plain.realEigenvalues.sort((a, b) => a - b).slice(0, 6));
    expect(unorthogonality(found, M)).toBeLessThan(1e-12);
  });

  it('satisfy K x = lambda M x, and do not depend on the seed nor the shift', () => {
    const side = 15;
    const random = seeded(5);
    const [K, M] = [gridLaplacian(side), diagonal(Array.from({ length: side * side }, () => 1 + random()))];
    const found = modesOf(lowestModes(K, M, OPTIONS));
    const [left, right] = [new Float64Array(K.n), new Float64Array(K.n)];
    for (let k = 0; k < 10; k++) {
      const x = found.vectors[k];
      multiply(K, x, left);
      multiply(M, x, right);
      // The residual of the inverted problem times the norm of K - shift M, below 16.
      for (let i = 0; i < K.n; i++) expect(Math.abs(left[i] - found.eigenvalues[k] * right[i])).toBeLessThan(16 * OPTIONS.tolerance);
    }
    expectSpectrum(modesOf(lowestModes(K, M, { ...OPTIONS, seed: 2, shift: -0.2 })), [...found.eigenvalues]);
    expect(modesOf(lowestModes(K, M, OPTIONS)).vectors).toEqual(found.vectors);
  });

  it('are refused where the shift lies above the lowest, and tell when they do not converge', () => {
    const side = 25;
    expect(lowestModes(gridLaplacian(10), identity(100), { ...OPTIONS, shift: 1 }).kind).toBe('not-positive-definite');
    const found = lowestModes(gridLaplacian(side), identity(side * side), { ...OPTIONS, tolerance: 1e-30 });
    expect(found.kind).toBe('not-converged');
    expect(lowestModes(gridLaplacian(4), diagonal(new Array(16).fill(0)), { ...OPTIONS, count: 3 }).kind).toBe('not-converged');
    expect(() => lowestModes(gridLaplacian(2), identity(4), OPTIONS)).toThrow('count is 10; allowed: 1 to 4');
  });
});

describe('block Lanczos in another inner product', () => {
  it('finds the loads at which a pinned column buckles: whole multiples squared, by finite differences', () => {
    // The fourth derivative is -lambda times the second, pinned ends: K = D^2, G = D with D the second difference, so K^-1 G is the inverse of D.
    const n = 50;
    const places = Array.from({ length: n }, (_, i) => i);
    const [inner, second] = [places.slice(1), places.slice(2)];
    const D = fromTriplets(
      n,
      [...places, ...inner],
      [...places, ...inner.map((i) => i - 1)],
      [...places.map(() => 2), ...inner.map(() => -1)],
    );
    const K = fromTriplets(
      n,
      [...places, ...inner, ...second],
      [...places, ...inner.map((i) => i - 1), ...second.map((i) => i - 2)],
      [...places.map((i) => (i === 0 || i === n - 1 ? 5 : 6)), ...inner.map(() => -4), ...second.map(() => 1)],
    );
    const factor = factorise(analyse(K), K);
    if (factor.kind !== 'factor') throw new Error(factor.kind);
    const loaded = new Float64Array(n);
    const apply = (v: Float64Array, _: Float64Array, y: Float64Array) => {
      multiply(D, v, loaded);
      solve(factor, loaded, y);
    };
    const found = blockLanczos({ inner: K, apply }, { count: 4, seed: 1, tolerance: 1e-9 });
    if (found.kind !== 'eigenpairs') throw new Error(found.kind);
    for (const [k, value] of found.values.entries())
      expect(Math.abs(value * 4 * Math.sin(((k + 1) * Math.PI) / (2 * (n + 1))) ** 2 - 1)).toBeLessThan(CLOSE);
  });

  it('finds the largest, though others are larger in size and negative', () => {
    const eigenvalues = [-10, 0.5, -5, 0.25, -9, -20, 0.125, -1];
    const apply = (v: Float64Array, _: Float64Array, y: Float64Array) => y.set(v.map((each, i) => each * eigenvalues[i]));
    const found = blockLanczos({ inner: identity(8), apply }, { count: 3, seed: 1, tolerance: 1e-9 });
    if (found.kind !== 'eigenpairs') throw new Error(found.kind);
    for (const [k, value] of [0.5, 0.25, 0.125].entries()) expect(found.values[k]).toBeCloseTo(value, 12);
  });
});

it('a submatrix holds the rows and columns kept', () => {
  const matrix = dominant(30, 6, 8);
  const full = dense(matrix);
  const keep = Int32Array.of(1, 2, 5, 17, 18, 29);
  expect(dense(submatrix(matrix, keep))).toEqual([...keep].map((i) => [...keep].map((j) => full[i][j])));
});
