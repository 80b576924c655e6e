import type { StrutGraph } from '../lattice/index.ts';
import { joints, strutLength } from './joints.ts';
import { readingOf, type Sides } from './mark-code.ts';
import { lengthBetweenSpheres, lengthNeeded, type PinSizes, type PlacedPins, pinsOn } from './mark-pins.ts';
import type { VersionMark } from './mark-types.ts';
import { markWeight, type WeightOfPart } from './mark-weight.ts';
import { PRACTICE } from './practice.ts';
import { shown } from './sentence.ts';
import type { PrintFault, PrintMaterial } from './types.ts';

export type MarkOutcome = { readonly kind: 'done'; readonly mark: VersionMark } | { readonly kind: 'fault'; readonly fault: PrintFault };

/** Struts tried of each kind (role, length, thickness): most of a kind are images of each other. */
const TRIED_OF_A_KIND = 4;
/** Role of the struts that touch what the part touches. */
const OUTER = 'layer-0';
/** Largest number a mark may say: more binary digits than any strut carries. */
const LARGEST = 2 ** 24;

/**
 * A mark that says a number (of a version, or within a tray) by a comb of pins on a strut away from contact: on links and inner layers, the strut
 * nearest the plane z = 0 first; on the outer layer only where there is nothing else. First with pins on two sides of the strut, else on
 * four. part: mass and centre of mass without the mark. Faults: `no-room-for-mark` with the length needed and the longest there is.
 */
export function versionMark(
  graph: StrutGraph,
  number: number,
  material: Pick<PrintMaterial, 'minStrutMm' | 'minGapMm'> & { readonly densityGCm3: number },
  part: WeightOfPart,
): MarkOutcome {
  if (!Number.isInteger(number) || number < 1 || number > LARGEST) return { kind: 'fault', fault: refusedNumber(number) };
  const sizes = sizesFor(material);
  const { zoneMm } = joints(graph);
  const tried = fewOfEachKind(graph, awayFromContact(graph));
  for (const sides of [2, 4] as const) {
    for (const strut of tried) {
      const zones = [zoneMm[2 * strut], zoneMm[2 * strut + 1]] as const;
      const placed = pinsOn(graph, strut, zones, number, sides, sizes);
      if (placed) return { kind: 'done', mark: recordOf(graph, strut, number, sides, sizes, placed, material.densityGCm3, part) };
    }
  }
  return { kind: 'fault', fault: noRoom(graph, number, sizes, tried) };
}

/** A thinner pin or a narrower gap than the material's least does not come out of the powder. */
function sizesFor({ minStrutMm, minGapMm }: Pick<PrintMaterial, 'minStrutMm' | 'minGapMm'>): PinSizes {
  const { diameterMm, gapMm, lengthMm, longMm } = PRACTICE.markPin;
  return { diameterMm: Math.max(diameterMm, minStrutMm ?? 0), gapMm: Math.max(gapMm, minGapMm ?? 0), lengthMm, longMm };
}

/** Struts of links and inner layers, or all where there are none; those nearest z = 0 first, then by index. */
function awayFromContact(graph: StrutGraph): number[] {
  const all = Array.from({ length: graph.strutCount }, (_, strut) => strut);
  const inner = all.filter((strut) => graph.roleNames[graph.roles[strut]] !== OUTER);
  const height = (strut: number) => Math.abs(graph.xyz[3 * graph.ends[2 * strut] + 2] + graph.xyz[3 * graph.ends[2 * strut + 1] + 2]) / 2;
  // Heights that differ by rounding only must not decide.
  const rounded = Float64Array.from(all, (strut) => Math.round(height(strut) * 1e6));
  return (inner.length > 0 ? inner : all).sort((a, b) => rounded[a] - rounded[b] || a - b);
}

function fewOfEachKind(graph: StrutGraph, struts: readonly number[]): number[] {
  const seen = new Map<string, number>();
  return struts.filter((strut) => {
    const thickness = graph.diameters.subarray(2 * strut, 2 * strut + 2);
    const kind = [graph.roles[strut], strutLength(graph, strut).toFixed(6), ...thickness].join();
    seen.set(kind, (seen.get(kind) ?? 0) + 1);
    return seen.get(kind)! <= TRIED_OF_A_KIND;
  });
}

function recordOf(
  graph: StrutGraph,
  strut: number,
  number: number,
  sides: Sides,
  sizes: PinSizes,
  { pins, leastGapMm }: PlacedPins,
  densityGCm3: number,
  part: WeightOfPart,
): VersionMark {
  const comb = { strut, pins, pinDiameterMm: sizes.diameterMm };
  const role = graph.roleNames[graph.roles[strut]];
  const stations = pins.map(({ atMm }) => atMm);
  return {
    number,
    kind: 'pins',
    role,
    ...comb,
    pinLengthMm: sizes.lengthMm,
    longPinLengthMm: sizes.longMm,
    pitchMm: sizes.diameterMm + sizes.gapMm,
    lengthMm: Math.max(...stations) - Math.min(...stations) + sizes.diameterMm,
    leastGapMm,
    ...markWeight(graph, comb, densityGCm3, part),
    reading: readingOf(number, sides, sizes.diameterMm + sizes.gapMm),
    assumptions: assumptions(role, sizes),
  };
}

const assumptions = (role: string, { diameterMm, gapMm }: PinSizes): string[] => [
  `Pins are ${shown(diameterMm)} mm thick and ${shown(gapMm)} mm apart: the material's least strut and gap, and never below those of common practice (${PRACTICE.markPin.source}).`,
  role === OUTER
    ? 'The mark stands on the outer layer, as there is no other: it may touch what the part touches.'
    : 'The mark stands on a strut behind the outer layer; no pin is further out than that strut.',
  'A pin that breaks off is a small part, and changes the number read; look at the mark with the rest of the struts.',
];

function noRoom(graph: StrutGraph, number: number, sizes: PinSizes, tried: readonly number[]): PrintFault {
  const neededMm = lengthNeeded(number, 4, sizes);
  const longestMm = Math.max(0, ...tried.map((strut) => lengthBetweenSpheres(graph, strut)));
  const cause =
    longestMm < neededMm
      ? `the longest for it has ${shown(longestMm)} mm between its ends`
      : `those long enough (up to ${shown(longestMm)} mm) have others nearer than ${shown(sizes.gapMm)} mm beside the pins`;
  return {
    code: 'no-room-for-mark',
    message: `A mark for the number ${number} needs ${shown(neededMm)} mm of a strut; ${cause}. Longer struts or a smaller number help.`,
    details: { number, neededMm, longestMm },
  };
}

const refusedNumber = (number: number): PrintFault => ({
  code: 'no-room-for-mark',
  message: `The number of a mark is ${number}; allowed: a whole number from 1 to ${LARGEST}.`,
  details: { number, allowed: [1, LARGEST] },
});
