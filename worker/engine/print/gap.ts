import { type Approach, forEachNearPair, type GraphSymmetry, type StrutGraph } from '../lattice/index.ts';
import { shown } from './sentence.ts';
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
