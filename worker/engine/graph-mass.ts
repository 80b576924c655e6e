import { sumOfStruts } from './geometry.ts';
import { meanNode } from './graph-origin.ts';
import type { StrutGraph } from './lattice/index.ts';
import { findTouching, integrateUnion, massProperties, unionSurface } from './solid/index.ts';

/** Mass properties of the solid a graph stands for, as the offline command prints them. densityGCm3: density of the part. */
export function massOfGraph(graph: StrutGraph, densityGCm3: number) {
  const origin = meanNode(graph);
  const surface = unionSurface(graph, origin, findTouching(graph));
  const mass = massProperties(integrateUnion(graph, surface, null).moments, origin, densityGCm3 * 1e-3);
  return {
    volumeMm3: mass.volume,
    sumOfCylindersMm3: sumOfStruts(graph),
    massG: mass.mass,
    centreOfMassMm: mass.centre,
    inertiaGMm2: mass.inertia,
  };
}
