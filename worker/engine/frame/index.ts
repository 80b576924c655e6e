export type { EndZones } from './end-zones.ts';
export { type StrutFrame, strutFrame } from './strut-frame.ts';
