import { type Approach, closestApproach } from './closest-approach.ts';
import type { GraphSymmetry, StrutGraph } from './graph.ts';
import { strutGrid, visitBoxes } from './strut-grid.ts';

/**
 * Visits every pair of struts that share no node and whose gap may be below limitMm, or below the least that `visit` has answered so far; may
 * visit others too. Answer -Infinity to look no further than the limit. With a symmetry one strut of each orbit is compared with the rest.
 */
export function forEachNearPair(
  graph: StrutGraph,
  symmetry: Pick<GraphSymmetry, 'strutOrbit'> | null,
  limitMm: number,
  visit: (a: number, b: number, approach: Approach) => number,
): void {
  if (graph.strutCount === 0) return;
  const { xyz, ends, diameters } = graph;
  const grid = strutGrid(graph);
  const thickest = diameters.reduce((most, each) => Math.max(most, each), 0) / 2;
  const seenBy = new Int32Array(graph.strutCount).fill(-1);
  const orbit = symmetry?.strutOrbit ?? Int32Array.from({ length: graph.strutCount }, (_, k) => k);
  const approach: Approach = { gapMm: 0, distanceMm: 0, radiusA: 0, radiusB: 0 };
  let best = Infinity;
  for (let a = 0; a < graph.strutCount; a++) {
    if (orbit[a] !== a) continue;
    // The nearest axis lies within the gap of interest and both radii of this axis; the first strut meets all others.
    const reach = Math.max(best, limitMm) + thickest + Math.max(diameters[2 * a], diameters[2 * a + 1]) / 2;
    visitBoxes(graph, grid, a, reach, (box) => {
      for (let p = grid.ptr[box]; p < grid.ptr[box + 1]; p++) {
        const b = grid.items[p];
        // A pair is met from both its orbits: the lower one answers for it.
        if (seenBy[b] === a || orbit[b] < a || shareNode(ends, a, b)) continue;
        seenBy[b] = a;
        closestApproach(xyz, ends, diameters, a, b, approach);
        best = Math.min(best, visit(a, b, approach));
      }
    });
  }
}

/** True also for a strut and itself. */
const shareNode = (ends: Int32Array, a: number, b: number) =>
  ends[2 * a] === ends[2 * b] || ends[2 * a] === ends[2 * b + 1] || ends[2 * a + 1] === ends[2 * b] || ends[2 * a + 1] === ends[2 * b + 1];
