export type { EndZones } from './end-zones.ts';
export { type Actions, type Equilibrium, equilibriumOf, type Stability, settle, stabilityOf } from './equilibrium.ts';
export { move } from './large-frame.ts';
export { type Placement, strutDeformations } from './large-strut.ts';
export { type StrutFrame, strutFrame } from './strut-frame.ts';
