export { equalAreas } from './equal-areas.ts';
export { equalEdges } from './equal-edges.ts';
export { goldberg } from './goldberg.ts';
export { type Orientation, orient, turnBetween, turnGroup, turnPoints } from './orient.ts';
export { cellSize, neighbouringTilings, type TilingSize } from './sizes.ts';
export { edgeLengths, statistics, type TilingStatistics } from './statistics.ts';
export type { Tiling, TilingSymmetry } from './tiling.ts';
