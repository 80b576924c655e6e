import type { Lattice } from '../lattice/index.ts';
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
 * Diameter of the largest circle in each ring's best-fit plane, less the radius of every strut around it. A strut that is not a cylinder
 * counts with its thicker end, so the opening is never too large. Node spheres thicker than the struts of the ring are left out: in
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
  const struts = lattice.cellStruts.subarray(lattice.cellPtr[cell], lattice.cellPtr[cell + 1]);
  const nodes = Array.from(ring, (node) => layer * lattice.nodesPerLayer + node);
  return openingOf(
    lattice,
    nodes,
    Array.from(struts, (strut) => layer * lattice.strutsPerLayer + strut),
  );
}

/** The window between strut e of layer `above` and of the layer below it, bounded left and right by posts. */
function sideOpening(lattice: Lattice, above: number, e: number): number {
  const { graph, nodesPerLayer, strutsPerLayer, layerCount } = lattice;
  const [u, v] = [graph.ends[2 * e], graph.ends[2 * e + 1]];
  const [outer, inner] = [above * nodesPerLayer, (above + 1) * nodesPerLayer];
  const post = layerCount * strutsPerLayer + above * nodesPerLayer;
  const nodes = [outer + u, outer + v, inner + v, inner + u];
  return openingOf(lattice, nodes, [above * strutsPerLayer + e, post + v, (above + 1) * strutsPerLayer + e, post + u]);
}

/** Opening of a ring: strut i runs from node i to the next. */
function openingOf({ graph }: Lattice, nodes: number[], struts: number[]): number {
  const points = new Float64Array(3 * nodes.length);
  nodes.forEach((node, i) => points.set(graph.xyz.subarray(3 * node, 3 * node + 3), 3 * i));
  const radii = Float64Array.from(struts, (k) => Math.max(graph.diameters[2 * k], graph.diameters[2 * k + 1]) / 2);
  return inscribedDiameter(points, radii);
}
