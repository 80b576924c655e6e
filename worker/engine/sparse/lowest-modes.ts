import { factorise, type NotPositiveDefinite } from './cholesky.ts';
import { type LanczosOptions, lanczos, type NotConverged } from './lanczos.ts';
import { combine, multiply, type SparseMatrix } from './matrix.ts';
import { solve } from './solve.ts';
import { analyse } from './symbolic.ts';

export interface ModeOptions extends LanczosOptions {
  /** K - shift M is factored, so below the lowest eigenvalue: below zero for a free body. */
  readonly shift: number;
}

export interface Modes {
  readonly kind: 'modes';
  /** count, ascending */
  readonly eigenvalues: Float64Array;
  /** n per mode, one mode after another, x^T M x = 1 (of loads: x^T K x = 1) */
  readonly vectors: Float64Array;
  /** Of each mode, |Op x - theta x| / |theta| of the inverted problem; bounds the relative error of lambda - shift. */
  readonly residuals: Float64Array;
}

/**
 * Lowest eigenpairs of K x = lambda M x, both symmetric, M positive definite: the largest of (K - shift M)^-1 M, which is self-adjoint in M and has
 * the eigenvalues 1 / (lambda - shift).
 */
export function lowestModes(stiffness: SparseMatrix, mass: SparseMatrix, options: ModeOptions): Modes | NotPositiveDefinite | NotConverged {
  const shifted = combine(1, stiffness, -options.shift, mass);
  const factor = factorise(analyse(shifted), shifted);
  if (factor.kind !== 'factor') return factor;
  const found = lanczos({ metric: mass, apply: (_, product, y) => solve(factor, product, y) }, options);
  if (found.kind !== 'eigenpairs') return found;
  const { values, vectors, residuals } = found;
  return { kind: 'modes', eigenvalues: values.map((theta) => options.shift + 1 / theta), vectors, residuals };
}

/**
 * Lowest positive load factors of K x = lambda G x, where K is positive definite and G, the softening by a load of one (minus the geometric
 * stiffness), need not be: the largest of K^-1 G, self-adjoint in K. A factor that the load cannot reach, as it stiffens only, is Infinity.
 */
export function lowestLoads(
  stiffness: SparseMatrix,
  softening: SparseMatrix,
  options: LanczosOptions,
): Modes | NotPositiveDefinite | NotConverged {
  const factor = factorise(analyse(stiffness), stiffness);
  if (factor.kind !== 'factor') return factor;
  const loaded = new Float64Array(stiffness.n);
  const apply = (v: Float64Array, _: Float64Array, y: Float64Array) => {
    multiply(softening, v, loaded);
    solve(factor, loaded, y);
  };
  const found = lanczos({ metric: stiffness, apply }, options);
  if (found.kind !== 'eigenpairs') return found;
  const { values, vectors, residuals } = found;
  return { kind: 'modes', eigenvalues: values.map((theta) => (theta > 0 ? 1 / theta : Number.POSITIVE_INFINITY)), vectors, residuals };
}
