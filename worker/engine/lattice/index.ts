export type { GraphSymmetry, Lattice, StrutGraph } from './graph.ts';
