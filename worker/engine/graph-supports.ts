import { NODE_UNKNOWNS } from './frame/index.ts';
import type { NodeLoad } from './graph-frame.ts';
import { meanNode } from './graph-origin.ts';
import type { StrutGraph } from './lattice/index.ts';

/** Heights closer than this share of the whole height are one. */
const LEVEL = 1e-6;

/**
 * The lowest nodes held in z and three more unknowns of them held so that nothing can slide or spin, statically determinate; the highest ones loaded
 * downwards by 1 N in all.
 */
export function placedBetween({ nodeCount, xyz }: StrutGraph, hold: number, load: number) {
  const z = (v: number) => xyz[3 * v + 2];
  const rising = Array.from({ length: nodeCount }, (_, v) => v).sort((a, b) => z(a) - z(b));
  const level = LEVEL * (z(rising[nodeCount - 1]) - z(rising[0]));
  const low = rising.filter((v) => z(v) <= z(rising[hold - 1]) + level);
  const loaded = rising.filter((v) => z(v) >= z(rising[nodeCount - load]) - level);
  const held = new Map(low.map((v) => [NODE_UNKNOWNS * v + 2, 0]));
  const [first] = low;
  const away = (v: number) => Math.hypot(xyz[3 * v] - xyz[3 * first], xyz[3 * v + 1] - xyz[3 * first + 1]);
  const far = rising.reduce((best, v) => (away(v) > away(best) ? v : best));
  const alongX = Math.abs(xyz[3 * far] - xyz[3 * first]) > Math.abs(xyz[3 * far + 1] - xyz[3 * first + 1]);
  held.set(NODE_UNKNOWNS * first, 0).set(NODE_UNKNOWNS * first + 1, 0);
  held.set(NODE_UNKNOWNS * far + (alongX ? 1 : 0), 0);
  const forces = new Float64Array(NODE_UNKNOWNS * nodeCount);
  for (const v of loaded) forces[NODE_UNKNOWNS * v + 2] = -1 / loaded.length;
  return { held, loaded, forces };
}

/** Residual force over the sum of forces, and moment likewise, above which loads do not balance. */
const BALANCED = 1e-6;

/** Loads on a free body: refused unless they balance; one node is held in all six unknowns, which then carries nothing. */
export function selfBalanced(graph: StrutGraph, loads: readonly NodeLoad[]) {
  const { nodeCount, xyz } = graph;
  const origin = meanNode(graph);
  const forces = new Float64Array(NODE_UNKNOWNS * nodeCount);
  const [force, moment] = [new Float64Array(3), new Float64Array(3)];
  let [forceSize, momentSize] = [0, 0];
  for (const { node, forceN: f, momentNMm: m } of loads) {
    const [x, y, z] = [0, 1, 2].map((k) => xyz[3 * node + k] - origin[k]);
    const turning = [y * f[2] - z * f[1] + m[0], z * f[0] - x * f[2] + m[1], x * f[1] - y * f[0] + m[2]];
    for (let k = 0; k < 3; k++) {
      force[k] += f[k];
      moment[k] += turning[k];
      forces[NODE_UNKNOWNS * node + k] += f[k];
      forces[NODE_UNKNOWNS * node + 3 + k] += m[k];
    }
    forceSize += Math.hypot(...f);
    momentSize += Math.hypot(...m) + Math.hypot(x, y, z) * Math.hypot(...f);
  }
  if (Math.hypot(...force) > BALANCED * forceSize || Math.hypot(...moment) > BALANCED * momentSize)
    return { kind: 'unbalanced' as const, forceN: [...force], momentNMm: [...moment] };
  const held = new Map(Array.from({ length: NODE_UNKNOWNS }, (_, k) => [k, 0] as const));
  return { kind: 'balanced' as const, held, forces };
}
