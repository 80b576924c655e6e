import type { StrutGraph } from '../lattice/index.ts';
import type { Growth } from './growth.ts';
import { MOMENTS, type Moments, makeMoments } from './moments.ts';
import type { UnionSurface } from './union.ts';

/**
 * What the half on the positive side of the plane through the origin gains more than the other, mm3 per mm of radius, for every strut and every
 * node's sphere: those clear of the plane give all of their growth to one side, those it cuts are integrated up to it.
 */
export function growthAcross(graph: StrutGraph, surface: UnionSurface, growth: Growth, normal: readonly [number, number, number]) {
  const { nodes, nodeRadius } = surface.frames;
  const height = (v: number) => nodes[3 * v] * normal[0] + nodes[3 * v + 1] * normal[1] + nodes[3 * v + 2] * normal[2];
  const cut = makeMoments();
  const across = (whole: number, low: number, high: number, radius: number, grow: (out: Moments) => void) => {
    if (low >= radius) return whole;
    if (high <= -radius) return -whole;
    grow(cut.fill(0));
    return 2 * cut[0] - whole;
  };
  return {
    strut: Float64Array.from({ length: graph.strutCount }, (_, s) => {
      const [a, b] = [height(graph.ends[2 * s]), height(graph.ends[2 * s + 1])];
      const radius = Math.max(graph.diameters[2 * s], graph.diameters[2 * s + 1]) / 2;
      return across(growth.strut[MOMENTS * s], Math.min(a, b), Math.max(a, b), radius, (out) => surface.growStrut(s, out, normal));
    }),
    node: Float64Array.from({ length: graph.nodeCount }, (_, v) =>
      across(growth.node[MOMENTS * v], height(v), height(v), nodeRadius[v], (out) => surface.growNode(v, out, normal)),
    ),
  };
}
