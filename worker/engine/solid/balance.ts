import type { StrutGraph } from '../lattice/index.ts';
import { halfDifference, largestHalfDifference } from './halves.ts';
import type { MassProperties } from './mass-properties.ts';
import type { Union, UnionSurface } from './union.ts';

export interface Balance {
  readonly halfMassDifferencePct: number;
  readonly largestHalfMassDifferencePct: number;
  readonly centreOfMassOffsetMm: number;
  readonly inertiaSpreadPct: number;
  readonly radialRunoutMm: number;
}

/**
 * How true a lattice about the origin is: difference of the halves across z = 0 and across the worst of many planes (percent of the whole),
 * centre of mass from the origin (mm), 100 (Imax - Imin) / Imean, and the spread of the outer node spheres' tops about the centre of mass (mm).
 * `outerNodes` is the number of nodes of layer 0, which come first. `poll` is called for every plane and every body that one cuts, and may throw.
 */
export function balance(
  graph: StrutGraph,
  surface: UnionSurface,
  union: Union,
  properties: MassProperties,
  outerNodes: number,
  poll: () => void = () => {},
): Balance {
  const { principal, centre, volume } = properties;
  const mean = (principal[0] + principal[1] + principal[2]) / 3;
  const across = Math.abs(halfDifference(graph, surface, union, [0, 0, 1], poll));
  let [low, high] = [Number.POSITIVE_INFINITY, 0];
  for (let v = 0; v < outerNodes; v++) {
    const top = Math.hypot(...[0, 1, 2].map((k) => graph.xyz[3 * v + k] - centre[k])) + graph.nodeRadius[v];
    [low, high] = [Math.min(low, top), Math.max(high, top)];
  }
  return {
    halfMassDifferencePct: (100 * across) / volume,
    largestHalfMassDifferencePct: (100 * Math.max(across, largestHalfDifference(graph, surface, union, poll))) / volume,
    centreOfMassOffsetMm: Math.hypot(...centre),
    inertiaSpreadPct: (100 * (principal[2] - principal[0])) / mean,
    radialRunoutMm: high - low,
  };
}
