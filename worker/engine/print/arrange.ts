import { builtDiameterMm, clearSizeMm } from './chamber.ts';
import { lowestEqualSpheres, MOST_ONE_BY_ONE } from './equal-spheres.ts';
import type { Poll, Room } from './lowest-first.ts';
import type { Box } from './sphere-stack.ts';
import { mostStacked } from './stack-search.ts';
import { stackInWords } from './stack-words.ts';
import type { BuildVolume, PrintMaterial } from './types.ts';

/** Parts placed in the chamber; an empty arrangement (count 0) when not even one fits. */
export interface Arrangement {
  readonly count: number;
  /** How the parts are stacked, in words. */
  readonly name: string;
  /** Centres, 3 per part, mm from the chamber's lower corner; sorted by height. */
  readonly centresMm: Float64Array;
  /** Diameter of the sphere that stands for one part, shrinkage compensation included. */
  readonly partDiameterMm: number;
  readonly spacingMm: number;
  /** true: only the lower part of the chamber was filled (see MOST_PARTS). */
  readonly capped: boolean;
}

/** Arrangements of 1, 2, ... equal parts. */
export interface Arrangements {
  readonly most: number;
  /** Height of the highest centre of so many parts, mm from the bottom of the bed; it never falls with their number. */
  topOf(parts: number): number;
  /** The lowest arrangement found of so many parts, at most `most`. */
  take(parts: number): Arrangement;
}

/** Where a square grid would hold more than this, only the lower part of the chamber is planned. */
export const MOST_PARTS = 10_000;

/** The most parts that `arrangements` finds room for. */
export function arrange(outsideDiameterMm: number, material: Pick<PrintMaterial, 'shrinkagePct'>, volume: BuildVolume): Arrangement {
  const all = arrangements(outsideDiameterMm, material, volume);
  return all.take(all.most);
}

/**
 * Equal parts in the chamber by a constructive search. Each part stands as its circumscribed sphere, D / (1 - shrinkage), whatever its shape;
 * spheres keep partSpacingMm between them and stay in the clear room (see clearSizeMm). Searched: stacks of square or staggered rows with
 * aligned or nested layers, along all axes, tight or pulled apart (see stackCandidates), and parts placed one by one. Never fewer than in
 * the square grid or staggered by one or two axes; not proven densest. Deterministic; of equal counts the lowest, then the first found. `poll` is called every few milliseconds, and may throw.
 */
export function arrangements(
  outsideDiameterMm: number,
  material: Pick<PrintMaterial, 'shrinkagePct'>,
  volume: BuildVolume,
  poll?: Poll,
): Arrangements {
  const partDiameterMm = builtDiameterMm(outsideDiameterMm, material);
  const spacingMm = volume.partSpacingMm;
  const pitch = partDiameterMm + spacingMm;
  const [x, y, z] = clearSizeMm(volume);
  // Half the spacing belongs to each part's sphere, so the room grows by as much on every side.
  const full: Room = [x + spacingMm, y + spacingMm, z + spacingMm];
  const room = lowerPart(full, pitch);
  const box: Box = [room[0] - pitch, room[1] - pitch, room[2] - pitch];
  const stacked = Math.min(...box) < 0 ? 0 : mostStacked(box, pitch, poll);
  const lowest = lowestEqualSpheres(Math.max(stacked, MOST_ONE_BY_ONE), pitch / 2, room, poll);
  const first = [volume.wallMarginMm, volume.wallMarginMm, volume.coverMm].map((margin) => margin - spacingMm / 2);
  const take = (parts: number): Arrangement => {
    const { spheres, stack } = lowest.take(parts);
    const centresMm = Float64Array.from(spheres.flatMap((sphere) => [first[0] + sphere.x, first[1] + sphere.y, first[2] + sphere.z]));
    return {
      count: spheres.length,
      name: stackInWords(stack, pitch, spheres.length),
      centresMm,
      partDiameterMm,
      spacingMm,
      capped: room !== full,
    };
  };
  return { most: lowest.most, topOf: (parts) => first[2] + lowest.topOf(parts), take };
}

/** Cuts the room from the top, then from the back, until a square grid in it holds no more than MOST_PARTS. */
function lowerPart(room: Room, pitch: number): Room {
  const places = room.map((side) => Math.floor(side / pitch));
  if (places[0] * places[1] * places[2] <= MOST_PARTS) return room;
  const cut = (axis: number, others: number) => Math.min(room[axis], Math.max(1, Math.floor(MOST_PARTS / others)) * pitch);
  const x = cut(0, 1);
  const inRow = Math.floor(x / pitch);
  const y = cut(1, inRow);
  return [x, y, cut(2, inRow * Math.floor(y / pitch))];
}
