/**
 * A periodic stack of spheres in a box: rows along u, rows side by side along v make a layer, layers on top of each other along w. Centres:
 * u = i pitch + (odd row ? rowShift : 0) + layer shift, v = j rowStep + layer shift, w = k layerStep; those inside the box are filled.
 */
export interface SphereStack {
  readonly pitch: number;
  readonly rowStep: number;
  /** 0: square rows; pitch / 2: staggered rows. */
  readonly rowShift: number;
  readonly layerStep: number;
  /** Shift of each layer against the one below it, along u and v. */
  readonly layerShift: readonly [number, number];
  /** true: the shift is taken back in every other layer; false: it adds up. */
  readonly alternate: boolean;
}

/** Sides of the box of centres along u, v, w. */
export type Box = readonly [number, number, number];

/** A pitch that was chosen to fill the box exactly must not lose its last sphere to rounding. */
const FIT = 1e-9;

/** Number of centres at offset + i pitch within [0, side]. */
const fitting = (offset: number, pitch: number, side: number) =>
  Math.max(0, Math.floor((side - offset) / pitch + FIT) - Math.ceil(-offset / pitch - FIT) + 1);

export const layersOf = (stack: SphereStack, box: Box): number => Math.floor(box[2] / stack.layerStep + FIT) + 1;

function shiftOf(stack: SphereStack, layer: number): [number, number] {
  const times = stack.alternate ? layer % 2 : layer;
  return [times * stack.layerShift[0], times * stack.layerShift[1]];
}

/** Number of spheres with their centres in the box, without listing them. */
export function countSpheres(stack: SphereStack, box: Box): number {
  const layers = layersOf(stack, box);
  if (stack.alternate) return Math.ceil(layers / 2) * layerCount(stack, box, 0) + Math.floor(layers / 2) * layerCount(stack, box, 1);
  let count = 0;
  for (let layer = 0; layer < layers; layer++) count += layerCount(stack, box, layer);
  return count;
}

function layerCount(stack: SphereStack, box: Box, layer: number): number {
  const [u, v] = shiftOf(stack, layer);
  const first = Math.ceil(-v / stack.rowStep - FIT);
  const rows = fitting(v, stack.rowStep, box[1]);
  const even = first % 2 === 0 ? Math.ceil(rows / 2) : Math.floor(rows / 2);
  return even * fitting(u, stack.pitch, box[0]) + (rows - even) * fitting(u + stack.rowShift, stack.pitch, box[0]);
}

/** Largest coordinate of a centre along u, v or w (0, 1, 2); a row that is empty in this box may stand for one that is not. */
export function extentOf(stack: SphereStack, box: Box, along: number): number {
  if (along === 2) return (layersOf(stack, box) - 1) * stack.layerStep;
  const step = along === 0 ? stack.pitch : stack.rowStep;
  const rowShifts = along === 0 ? [0, stack.rowShift] : [0];
  let most = 0;
  for (let layer = 0; layer < (stack.alternate ? Math.min(2, layersOf(stack, box)) : layersOf(stack, box)); layer++) {
    for (const rowShift of rowShifts) {
      const offset = shiftOf(stack, layer)[along] + rowShift;
      most = Math.max(most, offset + Math.floor((box[along] - offset) / step + FIT) * step);
    }
  }
  return most;
}

/** The centres, 3 per sphere in u, v, w, layer by layer and row by row. */
export function sphereCentres(stack: SphereStack, box: Box): number[] {
  const centres: number[] = [];
  for (let layer = 0; layer < layersOf(stack, box); layer++) {
    const [shiftU, shiftV] = shiftOf(stack, layer);
    const firstRow = Math.ceil(-shiftV / stack.rowStep - FIT);
    const rows = fitting(shiftV, stack.rowStep, box[1]);
    for (let row = firstRow; row < firstRow + rows; row++) {
      const offset = shiftU + (row % 2 === 0 ? 0 : stack.rowShift);
      const first = Math.ceil(-offset / stack.pitch - FIT);
      const spheres = fitting(offset, stack.pitch, box[0]);
      for (let i = first; i < first + spheres; i++) {
        centres.push(offset + i * stack.pitch, shiftV + row * stack.rowStep, layer * stack.layerStep);
      }
    }
  }
  return centres;
}

/** Distance in the plane of the layer from the point (u, v) to the nearest centre of an unbounded layer at shift 0. */
function nearestInLayer(u: number, v: number, { pitch, rowStep, rowShift }: Pick<SphereStack, 'pitch' | 'rowStep' | 'rowShift'>): number {
  let nearest = Infinity;
  const base = Math.floor(v / rowStep);
  for (let row = base - 1; row <= base + 2; row++) {
    const along = u - (row % 2 === 0 ? 0 : rowShift);
    const aside = along - pitch * Math.round(along / pitch);
    nearest = Math.min(nearest, aside * aside + (v - row * rowStep) ** 2);
  }
  return Math.sqrt(nearest);
}

/** Layers further up than this are kept apart by a least step of 1 / LAYERS_SEEN of the spacing. */
const LAYERS_SEEN = 8;

/** Least layerStep that keeps all centres of different layers at least `spacing` apart. */
export function leastLayerStep(stack: Omit<SphereStack, 'layerStep'>, spacing: number): number {
  const [u, v] = stack.layerShift;
  const over = (aside: number) => Math.sqrt(Math.max(0, spacing * spacing - aside * aside));
  // Every other layer stands straight above.
  if (stack.alternate) return Math.max(over(nearestInLayer(u, v, stack)), spacing / 2);
  let step = spacing / LAYERS_SEEN;
  for (let up = 1; up <= LAYERS_SEEN; up++) step = Math.max(step, over(nearestInLayer(up * u, up * v, stack)) / up);
  return step;
}
