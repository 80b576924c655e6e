import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { deviates } from '../probability/index.ts';
import { emptyBasis, extend, ofBasis } from './basis.ts';
import type { SparseMatrix } from './matrix.ts';

/** A linear operator that is self-adjoint in the inner product x^T inner y. */
export interface SymmetricOperator {
  /** Positive definite. */
  readonly inner: SparseMatrix;
  /** Overwrites y by the operator's image of v; `product` is inner v. */
  readonly apply: (v: Float64Array, product: Float64Array, y: Float64Array) => void;
}

export interface LanczosOptions {
  /** How many eigenvalues, the largest first. */
  readonly count: number;
  readonly seed: number;
  /** On each residual |Op x - theta x| / |theta| in the norm of the inner product. */
  readonly tolerance: number;
  /** Vectors that start together: an eigenvalue of this multiplicity is found whole. By default 6: five-fold ones of a ball, six rigid motions. */
  readonly block?: number;
  /** Called for every vector; may throw. */
  readonly poll?: () => void;
}

export interface Eigenpairs {
  readonly kind: 'eigenpairs';
  /** count, largest first */
  readonly values: Float64Array;
  /** n numbers per eigenvalue, orthonormal in the inner product */
  readonly vectors: readonly Float64Array[];
  readonly residuals: Float64Array;
}

/** The basis is as large as it may get, and these residuals are left. */
export interface NotConverged {
  readonly kind: 'not-converged';
  readonly residuals: Float64Array;
}

/** Share by which the basis grows between two looks at its eigenvalues: each look costs the cube of its size. */
const GROWTH = 1.2;

/**
 * Largest eigenvalues of an operator by block Lanczos with full re-orthogonalisation (Golub, Underwood 1977; Grimes, Lewis, Simon 1994) on a basis
 * that grows. A block that runs dry is filled up with seeded random vectors, so an invariant subspace hides nothing.
 */
export function blockLanczos(
  { inner, apply }: SymmetricOperator,
  { count, seed, tolerance, block = 6, poll }: LanczosOptions,
): Eigenpairs | NotConverged {
  const { n } = inner;
  if (!(count >= 1 && count <= n)) throw new RangeError(`count is ${count}; allowed: 1 to ${n}`);
  const room = Math.min(n, 8 * count + 24 * block);
  const basis = emptyBasis(inner, room);
  const { normal } = deviates(seed, 0);
  const fresh = () => Float64Array.from({ length: n }, normal);
  // coefficients[j]: the operator's image of basis vector j on the vectors of the basis.
  const coefficients: Float64Array[] = [];
  const image = new Float64Array(n);
  for (let k = 0; k < Math.min(block, n); k++) extend(basis, inner, fresh(), 0);
  for (let look = count + block; ; look = Math.ceil(look * GROWTH)) {
    while (coefficients.length < Math.min(look, basis.size)) {
      poll?.();
      const at = coefficients.length * n;
      apply(basis.vectors.subarray(at, at + n), basis.products.subarray(at, at + n), image);
      const { shares, appended } = extend(basis, inner, image, 3 * block);
      coefficients.push(shares);
      if (!appended && basis.size < room) extend(basis, inner, fresh(), 0);
    }
    // Without a positive definite inner product there may be no basis to speak of.
    if (coefficients.length < count) return { kind: 'not-converged', residuals: new Float64Array(count).fill(Number.POSITIVE_INFINITY) };
    const { values, shares, residuals } = ritzValues(coefficients, count);
    if (residuals.every((each) => each <= tolerance))
      return { kind: 'eigenpairs', values, vectors: shares.map((each) => ofBasis(basis, each)), residuals };
    if (coefficients.length === basis.size) return { kind: 'not-converged', residuals };
  }
}

/** The `count` largest eigenvalues of the operator on the basis vectors whose images are known, their vectors' shares on these, and residuals. */
function ritzValues(coefficients: readonly Float64Array[], count: number) {
  const size = coefficients.length;
  const projected = Matrix.zeros(size, size);
  for (let j = 0; j < size; j++) {
    for (let i = 0; i <= j; i++) {
      projected.set(i, j, coefficients[j][i]);
      projected.set(j, i, coefficients[j][i]);
    }
  }
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(projected, { assumeSymmetric: true });
  const chosen = realEigenvalues.map((_, k) => k).sort((a, b) => realEigenvalues[b] - realEigenvalues[a]);
  const best = chosen.slice(0, count);
  const values = Float64Array.from(best, (k) => realEigenvalues[k]);
  const shares = best.map((k) => Float64Array.from(eigenvectorMatrix.getColumn(k)));
  const residuals = values.map((value, k) => outside(coefficients, shares[k]) / Math.abs(value));
  return { values, shares, residuals };
}

/** Length of what the image of a vector has on basis vectors whose own images are not known yet, and beyond the basis. */
function outside(coefficients: readonly Float64Array[], shares: Float64Array): number {
  const size = shares.length;
  let square = 0;
  for (let i = size; i < coefficients[size - 1].length; i++) {
    let sum = 0;
    for (let j = 0; j < size; j++) sum += (coefficients[j][i] ?? 0) * shares[j];
    square += sum * sum;
  }
  return Math.sqrt(square);
}
