import { nodeRadii } from './draft.ts';
import type { Lattice } from './graph.ts';
import { findSymmetry } from './symmetry.ts';

/** How much thicker struts print than they are designed, mm on the diameter: those in the layer and those along the build axis z. */
export interface StrutGrowth {
  readonly inLayer: number;
  readonly upright: number;
}

/** No strut becomes thinner than this share of its design. */
const LEAST_SHARE = 0.1;

/**
 * The lattice as it prints: a strut at the angle a to z grows by inLayer + (upright - inLayer) cos^2 a, node spheres with the thickest of their struts; centre
 * lines stay. `rotations`: those that may leave it as it is, row-major, 9 each. The same lattice for no growth.
 */
export function grown(lattice: Lattice, { inLayer, upright }: StrutGrowth, rotations: Float64Array): Lattice {
  if (inLayer === 0 && upright === 0) return lattice;
  const { graph, spanOf, spanCount } = lattice;
  const { xyz, ends, strutCount } = graph;
  const diameters = graph.diameters.slice();
  const spanDiameterMm = lattice.spanDiameterMm.slice();
  for (let s = 0; s < strutCount; s++) {
    const [a, b] = [3 * ends[2 * s], 3 * ends[2 * s + 1]];
    const d = [0, 1, 2].map((k) => xyz[b + k] - xyz[a + k]);
    const growth = inLayer + (upright - inLayer) * (d[2] ** 2 / (d[0] ** 2 + d[1] ** 2 + d[2] ** 2));
    for (const end of [2 * s, 2 * s + 1]) diameters[end] = Math.max(graph.diameters[end] + growth, LEAST_SHARE * graph.diameters[end]);
    if (s < spanCount) spanDiameterMm[spanOf[s]] = lattice.spanDiameterMm[spanOf[s]] + growth;
  }
  const printed = { ...graph, diameters, nodeRadius: nodeRadii(graph.nodeCount, ends, diameters) };
  // one growth for all leaves every symmetry as it was
  const symmetry = inLayer === upright ? lattice.symmetry : findSymmetry(printed, rotations);
  return { ...lattice, graph: printed, spanDiameterMm, symmetry };
}
