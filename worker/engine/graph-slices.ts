import { meanNode } from './graph-origin.ts';
import type { GraphSymmetry, StrutGraph } from './lattice/index.ts';
import { findTouching, integrateUnion, slice, unionSurface } from './solid/index.ts';

/** One horizontal section of the union: height of its plane, area, length of the outline. */
export interface GraphLayer {
  readonly zMm: number;
  readonly areaMm2: number;
  readonly contourMm: number;
}

export interface SliceOptions {
  /** Of the graph about the origin, where it is known: it takes a fraction of the time. */
  readonly symmetry?: GraphSymmetry | null;
  readonly isCancelled?: () => boolean;
}

/**
 * The solid a graph stands for, cut once in every layer from the bottom up, and its exact volume, as the offline command prints them.
 * The stack is centred on the object, so its ends may be up to a layer outside it (see `slice`). Cancelled it ends early, and what it returns is of no use.
 */
export function slicesOfGraph(
  graph: StrutGraph,
  layerMm: number,
  { symmetry = null, isCancelled }: SliceOptions = {},
): { layers: GraphLayer[]; volumeMm3: number } {
  const surface = unionSurface(graph, symmetry ? [0, 0, 0] : meanNode(graph), findTouching(graph));
  const { zMm, areaMm2, contourMm } = slice(graph, surface, symmetry, layerMm, isCancelled);
  return {
    layers: Array.from(areaMm2, (area, k) => ({ zMm: zMm[k], areaMm2: area, contourMm: contourMm[k] })),
    volumeMm3: integrateUnion(graph, surface, symmetry, isCancelled).moments[0],
  };
}

/** Height of the solid, mm. */
export function heightOfGraph({ xyz, nodeRadius, nodeCount }: StrutGraph): number {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let node = 0; node < nodeCount; node++) {
    low = Math.min(low, xyz[3 * node + 2] - nodeRadius[node]);
    high = Math.max(high, xyz[3 * node + 2] + nodeRadius[node]);
  }
  return high - low;
}
