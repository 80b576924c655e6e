export { type DropHooks, type DropOutcome, type DropTest, drop } from './drop.ts';
export type { DropBounce, DropEnergy, DropReport } from './drop-report.ts';
export { pushOfFloor } from './floor.ts';
export type { ElasticFrame } from './model.ts';
export { type ObliqueBounce, type ObliqueOutcome, type ObliqueTest, obliqueDrop } from './oblique.ts';
export { type Orientation, orientationsOf, orientationsOfGraph } from './orientations.ts';
export { arrive, type Dropped, type Prepared, prepare } from './prepare.ts';
export { type Branch, type Relaxation, type RelaxationOutcome, relaxationOf, response, type Viscoelastic } from './relaxation.ts';
export type { Direction } from './turn.ts';
