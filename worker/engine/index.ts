export {
  type EngineError,
  type EngineInput,
  type EngineResult,
  type EvaluationHooks,
  type EvaluationOutcome,
  evaluate,
} from './evaluate.ts';
export { type GraphFault, graphJson, readGraph } from './export/index.ts';
export { massOfGraph } from './graph-mass.ts';
export type { StrutGraph } from './lattice/index.ts';
