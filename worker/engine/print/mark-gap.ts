import { forEachNearPair, nodeRadii, type StrutGraph } from '../lattice/index.ts';
import type { MarkPin } from './mark-types.ts';
import { moved, type StrutAxis, strutAxis } from './strut-axis.ts';

/** Cosine above which a strut that meets another end to end is the same member going on. */
const STRAIGHT = 0.999;

/** Other members' struts that may lie within `reachMm` of a strut's surface. */
export function strutsNear(graph: StrutGraph, strut: number, reachMm: number): number[] {
  const { xyz, ends, diameters } = graph;
  const at = (s: number, k: number) => (xyz[3 * ends[2 * s] + k] + xyz[3 * ends[2 * s + 1] + k]) / 2;
  const radius = (s: number) =>
    Math.hypot(...[0, 1, 2].map((k) => at(s, k) - xyz[3 * ends[2 * s] + k])) + Math.max(diameters[2 * s], diameters[2 * s + 1]) / 2;
  const mine = [at(strut, 0), at(strut, 1), at(strut, 2), radius(strut)];
  const { along } = strutAxis(graph, strut);
  const goesOn = (s: number) => {
    const shared = [0, 1].some((end) => ends[2 * s + end] === ends[2 * strut] || ends[2 * s + end] === ends[2 * strut + 1]);
    const other = strutAxis(graph, s).along;
    return shared && Math.abs(along[0] * other[0] + along[1] * other[1] + along[2] * other[2]) > STRAIGHT;
  };
  return Array.from({ length: graph.strutCount }, (_, s) => s).filter((s) => {
    const distance = Math.hypot(at(s, 0) - mine[0], at(s, 1) - mine[1], at(s, 2) - mine[2]);
    return s !== strut && distance <= mine[3] + radius(s) + reachMm && !goesOn(s);
  });
}

/**
 * Smallest gap between any of the pins, where they stand out of their own strut, and any of the given struts, mm; Infinity without struts. Struts
 * count with their thicker end.
 */
export function gapToOthers(
  graph: StrutGraph,
  struts: readonly number[],
  axis: StrutAxis,
  pins: readonly MarkPin[],
  diameterMm: number,
): number {
  const points: number[] = [];
  const diameters: number[] = [];
  for (const { atMm, direction, reachMm } of pins) {
    const foot = axis.pointAt(atMm);
    points.push(...moved(foot, direction, axis.diameterAt(atMm) / 2), ...moved(foot, direction, reachMm));
    diameters.push(diameterMm, diameterMm);
  }
  for (const s of struts) {
    for (const end of [2 * s, 2 * s + 1]) {
      points.push(...graph.xyz.subarray(3 * graph.ends[end], 3 * graph.ends[end] + 3));
    }
    const thicker = Math.max(graph.diameters[2 * s], graph.diameters[2 * s + 1]);
    diameters.push(thicker, thicker);
  }
  let least = Infinity;
  forEachNearPair(looseStruts(points, diameters), null, 0, (a, b, { gapMm }) => {
    // Only pairs of a pin and a strut count.
    if (a < pins.length && b >= pins.length) least = Math.min(least, gapMm);
    return least;
  });
  return least;
}

/** Struts that share no nodes: strut k runs from point 2k to point 2k + 1. */
function looseStruts(points: readonly number[], diameters: readonly number[]): StrutGraph {
  const strutCount = diameters.length / 2;
  const ends = Int32Array.from({ length: 2 * strutCount }, (_, end) => end);
  const flat = Float64Array.from(diameters);
  return {
    nodeCount: 2 * strutCount,
    strutCount,
    xyz: Float64Array.from(points),
    ends,
    diameters: flat,
    roles: new Int32Array(strutCount),
    roleNames: [''],
    nodeRadius: nodeRadii(2 * strutCount, ends, flat),
  };
}
