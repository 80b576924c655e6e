export { cellsSvg, sectionSvg } from './drawings.ts';
export { cellsDxf } from './dxf.ts';
export { flatCells } from './flat-cells.ts';
export { glb } from './glb.ts';
export { type GraphFault, type GraphJson, graphJson, readGraph } from './graph-json.ts';
export { binaryStl } from './stl.ts';
export { layersCsv, strutsCsv } from './tables.ts';
export { type BuildPart, inFirstOctant, meshThreeMf, threeMf } from './three-mf.ts';
export type { Metadata, Placement } from './three-mf-model.ts';
