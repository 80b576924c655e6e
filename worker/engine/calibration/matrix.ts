import { CholeskyDecomposition, EigenvalueDecomposition, Matrix } from 'ml-matrix';

/** Rows of a small symmetric matrix. */
export type Square = readonly (readonly number[])[];

/** Of a positive definite matrix. Scaled to a unit diagonal first, as millimetres and shares of very different sizes meet in one. */
export function inverse(matrix: Square): number[][] {
  const scale = matrix.map((row, j) => 1 / Math.sqrt(row[j]));
  const scaled = new Matrix(matrix.map((row, j) => row.map((value, k) => ((value + matrix[k][j]) / 2) * (scale[j] * scale[k]))));
  const found = new CholeskyDecomposition(scaled).solve(Matrix.eye(matrix.length)).to2DArray();
  return found.map((row, j) => row.map((value, k) => ((value + found[k][j]) / 2) * scale[j] * scale[k]));
}

/** Eigenvalues and unit eigenvectors of a symmetric matrix, the largest first. */
export function eigen(matrix: Square): { value: number; vector: number[] }[] {
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(new Matrix(matrix.map((row) => [...row])), {
    assumeSymmetric: true,
  });
  const pairs = realEigenvalues.map((value, k) => ({ value, vector: eigenvectorMatrix.getColumn(k) }));
  return pairs.sort((a, b) => b.value - a.value);
}

/** a' M b. */
export const form = (a: ArrayLike<number>, matrix: Square, b: ArrayLike<number>): number =>
  matrix.reduce((sum, row, j) => sum + a[j] * row.reduce((inner, value, k) => inner + value * b[k], 0), 0);
