import { forEachNearPair, type StrutGraph } from '../lattice/index.ts';

/** Two struts that share no node, and the gap of their surfaces; negative: they run into one another, as the computation lets them. */
export interface Touch {
  readonly gapMm: number;
  readonly struts: readonly [number, number];
}

/**
 * Two parts of the same solid meet: told by the pair that runs into one another deepest. Pairs that do so by design are left out. `strutOrbit`: the lowest
 * strut of each one's orbit under maps that the positions keep to; one strut of each is then compared with the rest.
 */
export function touchFinder(
  graph: StrutGraph,
  strutOrbit: Int32Array | null,
): (positions: Float64Array) => { first: Touch | null; through: boolean } {
  const byDesign = new Set<number>();
  const symmetry = strutOrbit && { strutOrbit };
  forEachNearPair(graph, symmetry, 0, (a, b, { gapMm }) => {
    if (gapMm <= 0) byDesign.add(keyOf(graph, a, b));
    return Number.NEGATIVE_INFINITY;
  });
  return (positions) => {
    let first: Touch | null = null;
    let through = false;
    forEachNearPair({ ...graph, xyz: positions }, symmetry, 0, (a, b, { gapMm, radiusA, radiusB }) => {
      if (gapMm < 0 && !byDesign.has(keyOf(graph, a, b))) {
        if (gapMm < (first?.gapMm ?? 0)) first = { gapMm, struts: [Math.min(a, b), Math.max(a, b)] };
        through ||= -gapMm > Math.min(radiusA, radiusB);
      }
      return Number.NEGATIVE_INFINITY;
    });
    return { first, through };
  };
}

const keyOf = ({ strutCount }: StrutGraph, a: number, b: number) => Math.min(a, b) * strutCount + Math.max(a, b);
