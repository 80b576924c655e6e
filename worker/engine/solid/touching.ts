import { forEachNearPair, type StrutGraph } from '../lattice/index.ts';

/** For each strut, those that overlap it without sharing a node with it; struts that none does are left out. */
export type Touching = ReadonlyMap<number, readonly number[]>;

/** Finds all such pairs. A tapered strut counts as its round cone, so a few that only come close may be listed: that costs time, not truth. */
export function findTouching(graph: StrutGraph): Touching {
  const touching = new Map<number, number[]>();
  const note = (a: number, b: number) => touching.set(a, [...(touching.get(a) ?? []), b]);
  forEachNearPair(graph, null, 0, (a, b, { gapMm }) => {
    if (gapMm < 0) {
      note(a, b);
      note(b, a);
    }
    return Number.NEGATIVE_INFINITY;
  });
  return touching;
}
