export { type BounceFrames, type BounceFramesOutcome, bounceFrames } from './bounce-frames.ts';
export { calibrationOf } from './calibrating.ts';
export { Cancelled, type EvaluationHooks } from './course.ts';
export {
  type EngineInput,
  type EngineResult,
  type Evaluated,
  type EvaluationOutcome,
  evaluate,
} from './evaluate.ts';
export {
  type BuildPart,
  binaryStl,
  cellsDxf,
  cellsSvg,
  flatCells,
  type GraphFault,
  glb,
  graphJson,
  inFirstOctant,
  layersCsv,
  type Metadata,
  meshThreeMf,
  readGraph,
  sectionSvg,
  strutsCsv,
  threeMf,
} from './export/index.ts';
export { strutFrame } from './frame/index.ts';
export { dropOfGraph } from './graph-drop.ts';
export { type FrameQuestion, frameCompliance, frameFrequencies, frameStiffness, type NodeLoad } from './graph-frame.ts';
export { massOfGraph } from './graph-mass.ts';
export { type GraphLayer, heightOfGraph, slicesOfGraph } from './graph-slices.ts';
export type { Lattice, StrutGraph } from './lattice/index.ts';
export {
  conflictOf,
  keyOf,
  meetsAll,
  missOf,
  type Outcome,
  type Point,
  ranked,
  type SearchEnd,
  type SearchProblem,
  search,
  sensitivities,
  type Trial,
  verdict,
} from './match/index.ts';
export type { EngineError } from './mechanics.ts';
export { openEdges, type SurfaceMesh, sectionOf, surfaceMesh } from './mesh/index.ts';
export {
  animation,
  byMark,
  byRole,
  byScale,
  type Colouring,
  contactSheet,
  extentOfAll,
  type Moment,
  momentPicture,
  picture,
} from './picture/index.ts';
export { type Preview, previewOf, strutsAround } from './preview.ts';
export { type PrintedLattice, printedLattice } from './printed-lattice.ts';
export { gridPoint, latinHypercubePoint, sobolPoint } from './sampling/index.ts';
export { surfacesOf } from './surfaces.ts';
export { compareTargets, type TargetFinding } from './targets.ts';
export { type PlannedTray, TRAY_STAGES, type TrayInput, type TrayResult, trayOf } from './tray.ts';
