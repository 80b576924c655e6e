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

/** Rows of one layer that lie in the box: v = shift + row * rowStep for row = first, first + 1, ... */
interface Rows {
  readonly shift: number;
  readonly first: number;
  readonly count: number;
  /** How even and odd rows are filled: u = offset + i pitch for i = first, first + 1, ... */
  readonly fill: readonly { readonly rows: number; readonly offset: number; readonly first: number; readonly spheres: number }[];
}

function rowsOf(stack: SphereStack, box: Box, layer: number): Rows {
  const [u, v] = shiftOf(stack, layer);
  const first = firstFitting(v, stack.rowStep);
  const count = fitting(v, stack.rowStep, box[1]);
  const even = first % 2 === 0 ? Math.ceil(count / 2) : Math.floor(count / 2);
  const fill = [even, count - even].map((rows, odd) => {
    const offset = u + odd * stack.rowShift;
    return { rows, offset, first: firstFitting(offset, stack.pitch), spheres: fitting(offset, stack.pitch, box[0]) };
  });
  return { shift: v, first, count, fill };
}

const inLayer = ({ fill }: Rows) => fill.reduce((sum, { rows, spheres }) => sum + rows * spheres, 0);

/** Number of spheres with their centres in the box, without listing them. */
export function countSpheres(stack: SphereStack, box: Box): number {
  const layers = layersOf(stack, box);
  return Math.ceil(layers / 2) * inLayer(rowsOf(stack, box, 0)) + Math.floor(layers / 2) * inLayer(rowsOf(stack, box, 1));
}

/** Spheres whose centres share one coordinate. */
export interface Level {
  readonly at: number;
  readonly count: number;
}

/** The levels of a stack along u, v or w (0, 1, 2), rising; those that differ by rounding only are listed apart. */
export function levelsOf(stack: SphereStack, box: Box, along: number): Level[] {
  const layers = layersOf(stack, box);
  const levels: Level[] = [];
  for (let odd = 0; odd < Math.min(2, layers); odd++) {
    const rows = rowsOf(stack, box, odd);
    const same = Math.ceil((layers - odd) / 2);
    if (along === 2) for (let k = odd; k < layers; k += 2) levels.push({ at: k * stack.layerStep, count: inLayer(rows) });
    else if (along === 1)
      for (let row = rows.first; row < rows.first + rows.count; row++)
        levels.push({ at: rows.shift + row * stack.rowStep, count: same * rows.fill[Math.abs(row % 2)].spheres });
    else
      for (const fill of rows.fill)
        for (let i = fill.first; i < fill.first + fill.spheres; i++)
          levels.push({ at: fill.offset + i * stack.pitch, count: same * fill.rows });
  }
  return levels.filter(({ count }) => count > 0).sort((a, b) => a.at - b.at);
}

/** The centres, 3 per sphere in u, v, w, layer by layer and row by row. */
export function sphereCentres(stack: SphereStack, box: Box): number[] {
  const centres: number[] = [];
  for (let layer = 0; layer < layersOf(stack, box); layer++) {
    const rows = rowsOf(stack, box, layer);
    for (let row = rows.first; row < rows.first + rows.count; row++) {
      const { offset, first, spheres } = rows.fill[Math.abs(row % 2)];
      for (let i = first; i < first + spheres; i++) {
        centres.push(offset + i * stack.pitch, rows.shift + row * stack.rowStep, layer * stack.layerStep);
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
