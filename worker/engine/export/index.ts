export { type GraphFault, type GraphJson, graphJson, readGraph } from './graph-json.ts';
