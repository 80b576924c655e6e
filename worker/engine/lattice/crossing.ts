import type { Lattice } from './graph.ts';

/**
 * Where the diagonals cross in the window under edge e of layer k (braced lattices only): the node, and the four struts that meet there, from the
 * outer and then the inner ends of the edge's two posts. Crossings are the graph's last nodes, their struts its last struts.
 */
export function crossing({ graph, layerCount, strutsPerLayer }: Lattice, k: number, e: number): { node: number; firstStrut: number } {
  const windows = (layerCount - 1) * strutsPerLayer;
  const window = k * strutsPerLayer + e;
  return { node: graph.nodeCount - windows + window, firstStrut: graph.strutCount - 4 * (windows - window) };
}
