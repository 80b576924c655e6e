export { type EngineInput, type EngineResult, type EvaluationHooks, type EvaluationOutcome, evaluate } from './evaluate.ts';
export { type GraphFault, graphJson, massOfGraph, readGraph } from './export/index.ts';
export type { StrutGraph } from './lattice/index.ts';
