export { type CholeskyFactor, factorise, type NotPositiveDefinite } from './cholesky.ts';
export type { LanczosOptions, NotConverged } from './lanczos.ts';
export { lowestLoads, lowestModes, type ModeOptions, type Modes } from './lowest-modes.ts';
export { combine, fromTriplets, multiply, type SparseMatrix } from './matrix.ts';
export { order } from './minimum-degree.ts';
export { refine, solve } from './solve.ts';
export { analyse, type SymbolicFactor } from './symbolic.ts';
