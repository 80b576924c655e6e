export { type GraphFault, type GraphJson, graphJson, readGraph } from './graph-json.ts';
export { type BuildPart, inFirstOctant, threeMf } from './three-mf.ts';
export type { Metadata, Placement } from './three-mf-model.ts';
