import { blockLanczos, type LanczosOptions, type NotConverged } from './block-lanczos.ts';
import { factorise, type NotPositiveDefinite } from './cholesky.ts';
import { combine, type SparseMatrix } from './matrix.ts';
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
  /** n numbers per mode, x^T M x = 1 */
  readonly vectors: readonly Float64Array[];
  /** Of each mode, |Op x - theta x| / |theta| of the inverted problem; bounds the relative error of lambda - shift. */
  readonly residuals: Float64Array;
}

/**
 * Lowest eigenpairs of K x = lambda M x, both symmetric, M positive definite: the largest of (K - shift M)^-1 M, which is self-adjoint in M and has
 * the eigenvalues 1 / (lambda - shift).
 */
export function lowestModes(stiffness: SparseMatrix, mass: SparseMatrix, options: ModeOptions): Modes | NotPositiveDefinite | NotConverged {
  const shifted = combine(1, stiffness, -options.shift, mass);
  options.poll?.();
  const factor = factorise(analyse(shifted, undefined, options.poll), shifted, options.poll);
  if (factor.kind !== 'factor') return factor;
  const found = blockLanczos({ inner: mass, apply: (_, product, y) => solve(factor, product, y) }, options);
  if (found.kind !== 'eigenpairs') return found;
  const { values, vectors, residuals } = found;
  return { kind: 'modes', eigenvalues: values.map((theta) => options.shift + 1 / theta), vectors, residuals };
}
