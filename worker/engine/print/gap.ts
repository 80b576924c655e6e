import type { GraphSymmetry, StrutGraph } from '../lattice/index.ts';
import { type Approach, closestApproach } from './closest-approach.ts';
import { shown } from './sentence.ts';
import { strutGrid, visitBoxes } from './strut-grid.ts';
import type { PrintFault } from './types.ts';

/** Two struts that share no node, and the gap between their surfaces. */
export interface StrutPair {
  readonly a: number;
  readonly b: number;
  readonly gapMm: number;
}

/**
 * clear: no two of these struts cut into each other; smallest is null when all struts share nodes; `close` holds the pairs below the limit
 * that was asked for, the worst first, at most 50 (with a symmetry, one pair stands for all its images). fault: some do.
 */
export type GapOutcome =
  | { readonly kind: 'clear'; readonly smallest: StrutPair | null; readonly close: readonly StrutPair[] }
  | { readonly kind: 'fault'; readonly fault: PrintFault };

export const MOST_PLACES = 50;
/** Coordinates of some 100 mm carry 1e-13 mm of rounding: less than this is contact, not an intersection. */
const CONTACT_MM = 1e-9;

/**
 * Smallest surface gap (mm) between struts that share no node, and all pairs closer than limitMm. Struts at the two ends of a short third
 * strut share no node, so they count. Node spheres need no care: each is the end of a strut that meets there. Exact for cylinders and round
 * cones, a lower bound for frusta (see closestApproach). A negative gap is the fault `struts-intersect`; a gap of 0 (contact) is not.
 * With a symmetry only one strut of each orbit is compared with the rest: the group carries every other pair onto one of these.
 */
export function smallestGap(graph: StrutGraph, symmetry: GraphSymmetry | null, limitMm: number): GapOutcome {
  const close: StrutPair[] = [];
  let smallest: (StrutPair & Approach) | null = null;
  forEachNearPair(graph, symmetry, limitMm, (a, b, approach) => {
    if (smallest === null || approach.gapMm < smallest.gapMm) smallest = { a, b, ...approach };
    if (approach.gapMm < limitMm) keepWorst(close, { a, b, gapMm: approach.gapMm });
    return smallest.gapMm;
  });
  const found = smallest as (StrutPair & Approach) | null;
  if (found !== null && found.gapMm < -CONTACT_MM) return { kind: 'fault', fault: intersection(found) };
  return { kind: 'clear', smallest: found && { a: found.a, b: found.b, gapMm: found.gapMm }, close };
}

/** Visits every pair whose gap may be below the limit or below the best that `visit` has answered so far; may visit others too. */
function forEachNearPair(
  graph: StrutGraph,
  symmetry: GraphSymmetry | null,
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

/** Insertion into a short sorted list. */
function keepWorst(close: StrutPair[], pair: StrutPair): void {
  let place = close.length;
  while (place > 0 && close[place - 1].gapMm > pair.gapMm) place--;
  if (place >= MOST_PLACES) return;
  close.splice(place, 0, pair);
  if (close.length > MOST_PLACES) close.pop();
}

function intersection(pair: StrutPair & Approach): PrintFault {
  const { a, b, gapMm, distanceMm, radiusA, radiusB } = pair;
  return {
    code: 'struts-intersect',
    message:
      `Struts ${a} and ${b} do not meet but intersect: their axes come within ${shown(distanceMm)} mm, ` +
      `allowed: at least ${shown(radiusA + radiusB)} mm, the sum of their radii ${shown(radiusA)} and ${shown(radiusB)} mm.`,
    details: { struts: [a, b], distanceMm, radiiMm: [radiusA, radiusB], overlapMm: -gapMm },
  };
}
