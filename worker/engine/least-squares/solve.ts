import { Matrix, pseudoInverse, SingularValueDecomposition } from 'ml-matrix';
import { boundedLeastSquares, type LeastSquaresEnd, type LeastSquaresProblem } from './bounded.ts';
import { normalEquations } from './normal-step.ts';

/** Drives the solver with residuals that are computed on the spot. */
export function solveLeastSquares(residuals: (x: Float64Array) => Float64Array, problem: LeastSquaresProblem): LeastSquaresEnd {
  const solver = boundedLeastSquares(problem);
  let turn = solver.next();
  while (!turn.done) turn = solver.next(turn.value.map(residuals));
  return turn.value;
}

/**
 * Covariance of the estimates, variance (J^T J)^-1; without a variance of the residuals theirs is estimated, sum of squares / (m - n). Directions that the
 * residuals do not feel have no finite variance: they are left out (pseudo-inverse) and `rank` tells how many are felt.
 */
export function covariance(
  { jacobian, residuals, x }: LeastSquaresEnd,
  variance?: number,
): { matrix: number[][]; rank: number; variance: number } {
  const { gram } = normalEquations(jacobian, residuals);
  const freedom = residuals.length - x.length;
  const of = variance ?? residuals.reduce((sum, each) => sum + each * each, 0) / freedom;
  // scaled to a unit diagonal, so that units of the variables do not decide what is felt
  const scale = gram.map((row, j) => 1 / Math.sqrt(row[j] || 1));
  const scaled = new Matrix(gram.map((row, j) => Array.from(row, (value, k) => value * scale[j] * scale[k])));
  const inverse = pseudoInverse(scaled, 1e-14);
  const matrix = inverse.to2DArray().map((row, j) => row.map((value, k) => of * value * scale[j] * scale[k]));
  return { matrix, rank: new SingularValueDecomposition(scaled).rank, variance: of };
}
