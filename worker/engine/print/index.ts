export { type Arrangement, type Arrangements, arrange, arrangements } from './arrange.ts';
export { type AsBuilt, asBuilt } from './as-built.ts';
export { buildTime } from './build-time.ts';
export { clearSizeMm, shrinkageScale } from './chamber.ts';
export type { CheckInput } from './check.ts';
export { printability } from './checks.ts';
export { buildCost, type CostOutcome } from './cost.ts';
export { type CostCurveOutcome, type CostPoint, costCurve } from './cost-curve.ts';
export { type PowderEscape, powderEscape } from './escape.ts';
export { type GapOutcome, type StrutPair, smallestGap } from './gap.ts';
export { withMark } from './mark-graph.ts';
export type { MarkPin, VersionMark } from './mark-types.ts';
export type { WeightOfPart } from './mark-weight.ts';
export type { MechanicsFindings } from './mechanics-findings.ts';
export { clearOpenings, type Openings } from './opening.ts';
export {
  compareOrientations,
  type OrientationChoice,
  type OrientationComparison,
  type OrientationFigures,
  type OrientationOutcome,
  type TurnedPart,
} from './orientations.ts';
export { planTray } from './tray.ts';
export type * from './tray-types.ts';
export type {
  BuildEstimate,
  BuildVolume,
  CostEstimate,
  Place,
  Printability,
  PrintabilityCheck,
  PrintFault,
  PrintMaterial,
} from './types.ts';
export { type MarkOutcome, versionMark } from './version-mark.ts';
