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
export function quickWeighing(graph: StrutGraph, surface: UnionSurface, union: Union, symmetry: GraphSymmetry | null): QuickWeighing {
  const growth = growthOf(graph, surface, symmetry);
  const across = growthAcross(graph, surface, growth, [0, 0, 1]);
  const nominalDifference = halfDifference(graph, surface, union, [0, 0, 1]);
  const { strutCount, nodeCount, diameters } = graph;

  return ({ strutGrowthMm, nodeGrowthMm, scale }, moments) => {
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
    for (let k = 0; k < MOMENTS; k++) moments[k] *= scale ** (k === 0 ? 3 : k < 4 ? 4 : 5);
    return difference * scale ** 3;
  };
}
