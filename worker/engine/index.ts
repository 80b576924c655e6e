export { type BounceFrames, type BounceFramesOutcome, bounceFrames } from './bounce-frames.ts';
export type { EvaluationHooks } from './course.ts';
export {
  type EngineInput,
  type EngineResult,
  type Evaluated,
  type EvaluationOutcome,
  evaluate,
} from './evaluate.ts';
export { type BuildPart, type GraphFault, graphJson, inFirstOctant, type Metadata, readGraph, threeMf } from './export/index.ts';
export { strutFrame } from './frame/index.ts';
export { dropOfGraph } from './graph-drop.ts';
export { type FrameQuestion, frameCompliance, frameFrequencies, frameStiffness, type NodeLoad } from './graph-frame.ts';
export { massOfGraph } from './graph-mass.ts';
export { type GraphLayer, heightOfGraph, slicesOfGraph } from './graph-slices.ts';
export type { StrutGraph } from './lattice/index.ts';
export type { EngineError } from './mechanics.ts';
export { gridPoint, latinHypercubePoint, sobolPoint } from './sampling/index.ts';
export { type PlannedTray, TRAY_STAGES, type TrayInput, type TrayResult, trayOf } from './tray.ts';
