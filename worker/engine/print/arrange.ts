import { builtDiameterMm, clearSizeMm } from './chamber.ts';
import { shown } from './sentence.ts';
import { type Box, countSpheres, extentOf, layersOf, type SphereStack, sphereCentres } from './sphere-stack.ts';
import { stackCandidates } from './stack-candidates.ts';
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

/** Where a square grid would hold more than this, only the lower part of the chamber is planned. */
export const MOST_PARTS = 10_000;

/**
 * The most equal spheres that a constructive search finds for the chamber. Each part stands as its circumscribed sphere, D / (1 - shrinkage),
 * whatever its shape; spheres keep partSpacingMm between them and stay in the clear room (see clearSizeMm). Searched: stacks of square or
 * staggered rows with aligned or nested layers, along all axes, tight or pulled apart (see stackCandidates). Never worse than the square
 * grid or than staggering by one or two axes; not proven densest. Deterministic; of equal counts the lowest stack, then the first found.
 */
export function arrange(outsideDiameterMm: number, material: Pick<PrintMaterial, 'shrinkagePct'>, volume: BuildVolume): Arrangement {
  const diameter = builtDiameterMm(outsideDiameterMm, material);
  const spacing = diameter + volume.partSpacingMm;
  const room = clearSizeMm(volume).map((side) => side - diameter);
  const placed = { partDiameterMm: diameter, spacingMm: volume.partSpacingMm };
  // A part may fill the room exactly; the sum of its margins is then off by rounding only.
  if (Math.min(...room) < -1e-9 * diameter)
    return { count: 0, name: 'none: one part does not fit', centresMm: new Float64Array(0), ...placed, capped: false };
  const full: Box = [Math.max(0, room[0]), Math.max(0, room[1]), Math.max(0, room[2])];
  const box = lowerPart(full, spacing);
  const best = densest(box, spacing);
  const first = [volume.wallMarginMm, volume.wallMarginMm, volume.coverMm].map((margin) => margin + diameter / 2);
  const centresMm = byHeight(sphereCentres(best.stack, best.box), best.axes, box, first);
  return { count: centresMm.length / 3, name: inWords(best, spacing), centresMm, ...placed, capped: box !== full };
}

/** Cuts the box from the top, then from the back, until a square grid in it holds no more than MOST_PARTS. */
function lowerPart(box: Box, spacing: number): Box {
  const places = box.map((side) => Math.floor(side / spacing) + 1);
  if (places[0] * places[1] * places[2] <= MOST_PARTS) return box;
  const cut = (axis: number, others: number) => Math.min(box[axis], (Math.max(1, Math.floor(MOST_PARTS / others)) - 1) * spacing);
  const x = cut(0, 1);
  const inRow = Math.floor(x / spacing) + 1;
  const y = cut(1, inRow);
  return [x, y, cut(2, inRow * (Math.floor(y / spacing) + 1))];
}

interface Placed {
  stack: SphereStack;
  /** Chamber axes that u, v and w of the stack run along. */
  axes: readonly [number, number, number];
  box: Box;
  count: number;
  top: number;
}

const AXES: readonly Placed['axes'][] = [
  [0, 1, 2],
  [1, 0, 2],
  [0, 2, 1],
  [2, 0, 1],
  [1, 2, 0],
  [2, 1, 0],
];

function densest(box: Box, spacing: number): Placed {
  let best: Placed | null = null;
  for (const axes of AXES) {
    const vertical = axes.indexOf(2);
    const turned: Box = [box[axes[0]], box[axes[1]], box[axes[2]]];
    for (const stack of stackCandidates(turned, spacing)) {
      const count = countSpheres(stack, turned);
      if (best !== null && count < best.count) continue;
      const top = extentOf(stack, turned, vertical);
      if (best === null || count > best.count || top < best.top - 1e-9 * spacing) best = { stack, axes, box: turned, count, top };
    }
  }
  // At least the square grid was a candidate: its first sphere fits any box.
  return best as Placed;
}

/** Turns u, v, w into x, y, z, moves the box to its place in the chamber, and sorts from the bottom up. */
function byHeight(uvw: number[], axes: Placed['axes'], box: Box, first: number[]): Float64Array {
  const centres: number[][] = [];
  for (let i = 0; i < uvw.length; i += 3) {
    const centre = [0, 0, 0];
    // Clamped, because a pitch that fills the box exactly may end a rounding error outside it.
    axes.forEach((axis, k) => (centre[axis] = first[axis] + Math.min(Math.max(0, uvw[i + k]), box[axis])));
    centres.push(centre);
  }
  return Float64Array.from(centres.sort((a, b) => a[2] - b[2] || a[1] - b[1] || a[0] - b[0]).flat());
}

function inWords({ stack, axes, box, count }: Placed, spacing: number): string {
  if (count === 1) return 'one part';
  const axis = (k: number) => 'xyz'[axes[k]];
  const nested = stack.layerShift[0] !== 0 || stack.layerShift[1] !== 0;
  const layers = layersOf(stack, box);
  const rows = `${stack.rowShift === 0 ? 'square' : 'staggered'} rows along ${axis(0)}, ${shown(stack.pitch)} mm apart in the row`;
  const steps = `rows ${shown(stack.rowStep)} mm apart along ${axis(1)}`;
  if (layers === 1) return `${rows}, ${steps}, one layer`;
  const turn = nested ? 'nested layers' : 'aligned layers';
  const tight = stack.pitch <= spacing * (1 + 1e-9) ? '' : ', pulled apart so that the next nests deeper';
  return `${rows}, ${steps}; ${layers} ${turn}, ${shown(stack.layerStep)} mm apart along ${axis(2)}${tight}`;
}
