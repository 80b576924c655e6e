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
  /** Shift of every other layer along u and v; [0, 0]: aligned layers. */
  readonly layerShift: readonly [number, number];
}

/** Sides of the box of centres along u, v, w. */
export type Box = readonly [number, number, number];

/** A pitch that was chosen to fill the box exactly must not lose its last sphere to rounding. */
const FIT = 1e-9;

/** Number of centres at offset + i pitch within [0, side]. */
const fitting = (offset: number, pitch: number, side: number) =>
  Math.max(0, Math.floor((side - offset) / pitch + FIT) - firstFitting(offset, pitch) + 1);
const firstFitting = (offset: number, pitch: number) => Math.ceil(-offset / pitch - FIT);

export const layersOf = (stack: SphereStack, box: Box): number => Math.floor(box[2] / stack.layerStep + FIT) + 1;
const shiftOf = (stack: SphereStack, layer: number): readonly [number, number] => (layer % 2 === 0 ? [0, 0] : stack.layerShift);

/** Number of spheres with their centres in the box, without listing them. */
export function countSpheres(stack: SphereStack, box: Box): number {
  const layers = layersOf(stack, box);
  return Math.ceil(layers / 2) * layerCount(stack, box, 0) + Math.floor(layers / 2) * layerCount(stack, box, 1);
}

function layerCount(stack: SphereStack, box: Box, layer: number): number {
  const [u, v] = shiftOf(stack, layer);
  const rows = fitting(v, stack.rowStep, box[1]);
  const even = firstFitting(v, stack.rowStep) % 2 === 0 ? Math.ceil(rows / 2) : Math.floor(rows / 2);
  return even * fitting(u, stack.pitch, box[0]) + (rows - even) * fitting(u + stack.rowShift, stack.pitch, box[0]);
}

/** Largest coordinate of a centre along u, v or w (0, 1, 2); a row that is empty in this box may stand for one that is not. */
export function extentOf(stack: SphereStack, box: Box, along: number): number {
  const layers = layersOf(stack, box);
  if (along === 2) return (layers - 1) * stack.layerStep;
  const step = along === 0 ? stack.pitch : stack.rowStep;
  const rowShifts = along === 0 ? [0, stack.rowShift] : [0];
  const offsets = [0, 1].slice(0, layers).flatMap((layer) => rowShifts.map((rowShift) => shiftOf(stack, layer)[along] + rowShift));
  return Math.max(0, ...offsets.map((offset) => offset + Math.floor((box[along] - offset) / step + FIT) * step));
}

/** The centres, 3 per sphere in u, v, w, layer by layer and row by row. */
export function sphereCentres(stack: SphereStack, box: Box): number[] {
  const centres: number[] = [];
  for (let layer = 0; layer < layersOf(stack, box); layer++) {
    const [shiftU, shiftV] = shiftOf(stack, layer);
    const firstRow = firstFitting(shiftV, stack.rowStep);
    const rows = fitting(shiftV, stack.rowStep, box[1]);
    for (let row = firstRow; row < firstRow + rows; row++) {
      const offset = shiftU + (row % 2 === 0 ? 0 : stack.rowShift);
      const first = firstFitting(offset, stack.pitch);
      const spheres = fitting(offset, stack.pitch, box[0]);
      for (let i = first; i < first + spheres; i++) {
        centres.push(offset + i * stack.pitch, shiftV + row * stack.rowStep, layer * stack.layerStep);
      }
    }
  }
  return centres;
}

/** Least layerStep that keeps all centres of different layers at least `spacing` apart; every other layer stands straight above. */
export function leastLayerStep(stack: Omit<SphereStack, 'layerStep'>, spacing: number): number {
  const aside = asideOfLayer(stack);
  return Math.max(Math.sqrt(Math.max(0, spacing * spacing - aside * aside)), spacing / 2);
}

/** Distance in the plane of the layers from a centre of a shifted layer to the nearest centre of an unbounded unshifted one. */
function asideOfLayer({ pitch, rowStep, rowShift, layerShift: [u, v] }: Omit<SphereStack, 'layerStep'>): number {
  let nearest = Infinity;
  const base = Math.floor(v / rowStep);
  for (let row = base - 1; row <= base + 2; row++) {
    const along = u - (row % 2 === 0 ? 0 : rowShift);
    const aside = along - pitch * Math.round(along / pitch);
    nearest = Math.min(nearest, aside * aside + (v - row * rowStep) ** 2);
  }
  return Math.sqrt(nearest);
}
