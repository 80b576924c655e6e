export { buildLattice, nodeRadii } from './build.ts';
export type { Approach } from './closest-approach.ts';
export type { GraphSymmetry, Lattice, StrutGraph } from './graph.ts';
export { type Incidence, incidence } from './incidence.ts';
export { forEachNearPair } from './near-pairs.ts';
export type { ParameterSet } from './parameter-set.ts';
export { idealEdge, type Refusal } from './refusal.ts';
