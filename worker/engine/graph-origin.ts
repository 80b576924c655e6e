import type { StrutGraph } from './lattice/index.ts';

/** The mean of all nodes: moments and sections are taken about it, for far from the solid they would lose digits. */
export function meanNode({ xyz, nodeCount }: StrutGraph): [number, number, number] {
  const sum: [number, number, number] = [0, 0, 0];
  for (let k = 0; k < xyz.length; k++) sum[k % 3] += xyz[k] / nodeCount;
  return sum;
}
