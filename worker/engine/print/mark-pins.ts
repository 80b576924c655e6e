import type { StrutGraph } from '../lattice/index.ts';
import { below } from './check.ts';
import { codePins, placesFor, type Sides } from './mark-code.ts';
import { gapToOthers, strutsNear } from './mark-gap.ts';
import type { MarkPin } from './mark-types.ts';
import { moved, type StrutAxis, strutAxis } from './strut-axis.ts';

/** Sizes of a mark's pins, mm. */
export interface PinSizes {
  readonly diameterMm: number;
  /** Least gap between pins, and between a pin and any other strut. */
  readonly gapMm: number;
  /** How far a pin, and the long pin, stands out from the strut's surface. */
  readonly lengthMm: number;
  readonly longMm: number;
}

export interface PlacedPins {
  readonly pins: MarkPin[];
  /** To any other strut; null where there is none near. */
  readonly leastGapMm: number | null;
}

/** Directions of the long pin that are tried, evenly round the strut. */
const TURNS = 24;

/** Length of strut that a number's pins stand on, mm. */
export const lengthNeeded = (number: number, sides: Sides, { diameterMm, gapMm }: PinSizes): number =>
  placesFor(number, sides) * (diameterMm + gapMm) + diameterMm;

/** Length of a strut between the spheres at its ends, mm. */
export function lengthBetweenSpheres(graph: StrutGraph, strut: number): number {
  const [from, to] = outOfSpheres(graph, strut, strutAxis(graph, strut));
  return to - from;
}

/**
 * The pins of a number on one strut: the comb in the middle of what its joint zones leave, turned to where its least gap to other struts is
 * largest; null where it is too long, or everywhere too near to another strut. No pin stands out further from the origin than the strut
 * itself. zones: length of the joint zone at each end.
 */
export function pinsOn(
  graph: StrutGraph,
  strut: number,
  zones: readonly [number, number],
  number: number,
  sides: Sides,
  sizes: PinSizes,
): PlacedPins | null {
  const axis = strutAxis(graph, strut);
  const [from, to] = outOfSpheres(graph, strut, axis);
  const needed = lengthNeeded(number, sides, sizes);
  if (to - from < needed) return null;
  const middle = (zones[0] + axis.length - zones[1] - needed) / 2;
  const start = Math.min(Math.max(middle, from), to - needed) + sizes.diameterMm / 2;
  const limit = outermost(graph, strut);
  const near = strutsNear(graph, strut, sizes.longMm + sizes.gapMm);
  let best: { pins: MarkPin[]; gap: number } | null = null;
  for (let turn = 0; turn < TURNS; turn++) {
    const pins = comb(axis, start, (2 * Math.PI * turn) / TURNS, number, sides, sizes);
    const tips = pins.map((pin) => Math.hypot(...moved(axis.pointAt(pin.atMm), pin.direction, pin.reachMm)) + sizes.diameterMm / 2);
    if (Math.max(...tips) > limit) continue;
    const gap = gapToOthers(graph, near, axis, pins, sizes.diameterMm);
    if (!below(gap, sizes.gapMm) && (best === null || gap > best.gap)) best = { pins, gap };
  }
  return best && { pins: best.pins, leastGapMm: Number.isFinite(best.gap) ? best.gap : null };
}

/** Where along the strut its surface leaves the sphere at the first node, and enters that at the second. */
function outOfSpheres({ ends, nodeRadius }: StrutGraph, strut: number, { length, diameterAt }: StrutAxis): [number, number] {
  const inSphere = (end: 0 | 1) => Math.sqrt(Math.max(0, nodeRadius[ends[2 * strut + end]] ** 2 - (diameterAt(end * length) / 2) ** 2));
  return [inSphere(0), length - inSphere(1)];
}

/** The long pin at `start`, the code's pins one pitch apart behind it; seen along the strut their sides follow clockwise. */
function comb(axis: StrutAxis, start: number, angle: number, number: number, sides: Sides, sizes: PinSizes): MarkPin[] {
  const pin = (place: number, side: number, counts: number, out: number): MarkPin => {
    const atMm = start + place * (sizes.diameterMm + sizes.gapMm);
    const turned = angle + (2 * Math.PI * side) / sides;
    const [c, s] = [Math.cos(turned), Math.sin(turned)];
    const direction = [0, 1, 2].map((k) => c * axis.across[k] + s * axis.up[k]) as [number, number, number];
    return { atMm, direction, reachMm: axis.diameterAt(atMm) / 2 + out - sizes.diameterMm / 2, counts };
  };
  return [
    pin(0, 0, 0, sizes.longMm),
    ...codePins(number, sides).map(({ place, side, counts }) => pin(place, side, counts, sizes.lengthMm)),
  ];
}

/** Distance from the origin of the strut's outermost point. */
function outermost({ xyz, ends, diameters }: StrutGraph, strut: number): number {
  const outside = [2 * strut, 2 * strut + 1].map(
    (end) => Math.hypot(...xyz.subarray(3 * ends[end], 3 * ends[end] + 3)) + diameters[end] / 2,
  );
  return Math.max(...outside);
}
