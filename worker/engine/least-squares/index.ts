export { type Asking, boundedLeastSquares, type LeastSquaresEnd, type LeastSquaresProblem } from './bounded.ts';
export { covariance, solveLeastSquares } from './solve.ts';
