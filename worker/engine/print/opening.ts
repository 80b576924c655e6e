import { crossing, type Lattice } from '../lattice/index.ts';
import { inscribedDiameter } from './inscribed-circle.ts';

/**
 * Clear openings (mm) of a lattice. cells: per layer, one per cell; sides: per gap between neighbouring layers, one per strut of a layer:
 * the quadrilateral between that strut, its image in the next layer and the posts at its two ends (none where layers are not linked).
 */
export interface Openings {
  readonly cells: readonly Float64Array[];
  readonly sides: readonly Float64Array[];
}

/**
 * Diameter of the largest circle in each ring's best-fit plane, less the radius of every strut around it. A member that is not a cylinder
 * counts with its thickest place, so the opening is never too large. Node spheres thicker than the struts of the ring are left out: in
 * a corner of a cell they do not reach the circle.
 */
export function clearOpenings(lattice: Lattice): Openings {
  const layers = Array.from({ length: lattice.layerCount }, (_, layer) => layer);
  return {
    cells: layers.map((layer) => Float64Array.from({ length: lattice.cellCount }, (_, cell) => cellOpening(lattice, layer, cell))),
    sides: layers
      .slice(1)
      .map((below) =>
        Float64Array.from({ length: lattice.linked ? lattice.strutsPerLayer : 0 }, (_, e) => sideOpening(lattice, below - 1, e)),
      ),
  };
}

function cellOpening(lattice: Lattice, layer: number, cell: number): number {
  const ring = lattice.cellNodes.subarray(lattice.cellPtr[cell], lattice.cellPtr[cell + 1]);
  const edges = lattice.cellStruts.subarray(lattice.cellPtr[cell], lattice.cellPtr[cell + 1]);
  const nodes = Array.from(ring, (node) => layer * lattice.nodesPerLayer + node);
  const widths = Array.from(edges, (edge) => lattice.spanDiameterMm[layer * lattice.strutsPerLayer + edge]);
  return openingOf(lattice, nodes, widths);
}

/** The window between edge e of layer `above` and of the layer below it, bounded left and right by posts; its widest part where braces cross it. */
function sideOpening(lattice: Lattice, above: number, e: number): number {
  const { graph, nodesPerLayer, strutsPerLayer, layerCount, spanDiameterMm, edges } = lattice;
  const [u, v] = [edges[2 * e], edges[2 * e + 1]];
  const [outer, inner] = [above * nodesPerLayer, (above + 1) * nodesPerLayer];
  const post = layerCount * strutsPerLayer + above * nodesPerLayer;
  const corners = [outer + u, outer + v, inner + v, inner + u];
  const widths = [above * strutsPerLayer + e, post + v, (above + 1) * strutsPerLayer + e, post + u].map((span) => spanDiameterMm[span]);
  if (!lattice.braced) return openingOf(lattice, corners, widths);
  const { node, firstStrut } = crossing(lattice, above, e);
  // Brace struts come from outer u, outer v, inner u, inner v; corners run outer u, outer v, inner v, inner u.
  const brace = [0, 1, 3, 2].map((k) => Math.max(graph.diameters[2 * (firstStrut + k)], graph.diameters[2 * (firstStrut + k) + 1]));
  const parts = corners.map((corner, k) => {
    const next = (k + 1) % 4;
    return openingOf(lattice, [corner, corners[next], node], [widths[k], brace[next], brace[k]]);
  });
  return Math.max(...parts);
}

/** Opening of a ring: the member from node i to the next is widths[i] thick. */
function openingOf({ graph }: Lattice, nodes: number[], widths: number[]): number {
  const points = new Float64Array(3 * nodes.length);
  nodes.forEach((node, i) => points.set(graph.xyz.subarray(3 * node, 3 * node + 3), 3 * i));
  return inscribedDiameter(
    points,
    Float64Array.from(widths, (width) => width / 2),
  );
}
