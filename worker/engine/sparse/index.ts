export { blockLanczos, type Eigenpairs, type LanczosOptions, type NotConverged, type SymmetricOperator } from './block-lanczos.ts';
export { type CholeskyFactor, factorise, type NotPositiveDefinite } from './cholesky.ts';
export { lowestModes, type ModeOptions, type Modes } from './lowest-modes.ts';
export { combine, fromTriplets, multiply, type SparseMatrix, submatrix } from './matrix.ts';
export { order } from './minimum-degree.ts';
export { refine, solve } from './solve.ts';
export { analyse, type SymbolicFactor } from './symbolic.ts';
