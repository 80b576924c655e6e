import type { GraphSymmetry, StrutGraph } from '../lattice/index.ts';
import { growthAcross, growthOf, halfDifference, MOMENTS, type Moments, type Union, type UnionSurface } from '../solid/index.ts';
import type { PrintedPart } from './printed-part.ts';

/** Moments of printed parts about the origin, and the volume by which the half above z = 0 exceeds the other (mm3), to first order. */
export type QuickWeighing = (part: PrintedPart, moments: Moments) => number;

/**
 * Weighs parts by the union's exact first derivatives with respect to all radii: sum of growth times change, times 1 + change / (2 radius) for struts, which
 * makes it exact for cylinders apart from their joints. Sizes scale exactly. What is left out: joints to second order, and the rims of node
 * spheres that stand out where a strut is thinner than its neighbours.
 */
export function quickWeighing(
  graph: StrutGraph,
  surface: UnionSurface,
  union: Union,
  symmetry: GraphSymmetry | null,
  isCancelled?: () => boolean,
): QuickWeighing {
  const growth = growthOf(graph, surface, symmetry, isCancelled);
  const across = growthAcross(graph, surface, growth, [0, 0, 1]);
  const nominalDifference = halfDifference(graph, surface, union, [0, 0, 1]);
  const { strutCount, nodeCount, diameters } = graph;

  return (part, moments) => {
    const { strutGrowthMm, nodeGrowthMm } = part;
    moments.set(union.moments);
    let difference = nominalDifference;
    for (let s = 0; s < strutCount; s++) {
      const change = strutGrowthMm[s] * (1 + strutGrowthMm[s] / (diameters[2 * s] + diameters[2 * s + 1]));
      difference += across.strut[s] * change;
      for (let k = 0; k < MOMENTS; k++) moments[k] += growth.strut[MOMENTS * s + k] * change;
    }
    for (let v = 0; v < nodeCount; v++) {
      const change = nodeGrowthMm[v];
      difference += across.node[v] * change;
      for (let k = 0; k < MOMENTS; k++) moments[k] += growth.node[MOMENTS * v + k] * change;
    }
    return difference * stretch(moments, part);
  };
}

/** Powers of z in each of the moments 1, x, y, z, xx, yy, zz, xy, xz, yz, and of all three. */
const UP = [0, 0, 0, 1, 0, 0, 2, 0, 1, 1];
const DEGREE = [0, 1, 1, 1, 2, 2, 2, 2, 2, 2];

/** Moments of a solid after its part's scales, struts and all, exact; answers the factor on volumes. */
export function stretch(moments: Moments, { scale, upScale }: Pick<PrintedPart, 'scale' | 'upScale'>): number {
  const volume = scale ** 3 * upScale;
  for (let k = 0; k < MOMENTS; k++) moments[k] *= volume * scale ** DEGREE[k] * upScale ** UP[k];
  return volume;
}
