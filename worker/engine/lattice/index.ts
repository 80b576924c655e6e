export { buildLattice, nodeRadii } from './build.ts';
export type { GraphSymmetry, Lattice, StrutGraph } from './graph.ts';
export type { ParameterSet } from './parameter-set.ts';
export { idealEdge, type Refusal } from './refusal.ts';
