import type { StrutGraph } from '../lattice/index.ts';
import type { Colour } from './colours.ts';
import { drawLegend, drawText, INK, LINE, lineHigh, type Sheet, scaleOf } from './lettering.ts';
import { type Colouring, type Extent, shot } from './picture.ts';
import { animatedPng, png } from './png.ts';

/** A moment of a lattice that moves over a floor at z = 0, and what is written above it. */
export interface Moment {
  readonly graph: StrutGraph;
  readonly colouring: Colouring;
  readonly caption: string;
}

/** How moments are shown: all from the front, to one scale, and what they are coloured by below. */
export interface Showing {
  readonly extent: Extent;
  /** Side of the square of each. */
  readonly sizePx: number;
  /** Called every few milliseconds; what it throws ends it. */
  readonly poll?: () => void;
}

const GROUND: Colour = [232, 235, 238];

/** Middle and reach of what holds a lattice in all of its shapes (3 numbers per node each), and the floor below them. */
export function extentOfAll({ nodeRadius }: StrutGraph, shapes: readonly ArrayLike<number>[]): Extent {
  const [low, high] = [
    [Infinity, Infinity, 0],
    [-Infinity, -Infinity, 0],
  ];
  for (const xyz of shapes) {
    for (let k = 0; k < xyz.length; k++) {
      const r = nodeRadius[Math.floor(k / 3)];
      low[k % 3] = Math.min(low[k % 3], xyz[k] - r);
      high[k % 3] = Math.max(high[k % 3], xyz[k] + r);
    }
  }
  return { middle: low.map((x, k) => (x + high[k]) / 2), reach: Math.max(...low.map((x, k) => (high[k] - x) / 2)) };
}

/** One moment as PNG. */
export const momentPicture = (moment: Moment, showing: Showing): Uint8Array => contactSheet([moment], { ...showing, columns: 1 });

/** Moments side by side as PNG, `columns` in a row. */
export function contactSheet(moments: readonly Moment[], { columns, ...showing }: Showing & { columns: number }): Uint8Array {
  const rows = Math.ceil(moments.length / columns);
  const { sheet, head } = sheetOf(showing.sizePx, columns, rows);
  moments.forEach((moment, k) => {
    const [x, y] = [(k % columns) * showing.sizePx, Math.floor(k / columns) * (showing.sizePx + head)];
    drawMoment(sheet, [x, y], moment, showing);
  });
  drawLegend(sheet, moments[0].colouring.legend);
  return png(sheet.rgb, sheet.widthPx, sheet.heightPx);
}

/** Moments one after another as an animated PNG that begins anew; programs that show no animation show the one that is named. */
export function animation(
  moments: readonly Moment[],
  { still, delayMs, ...showing }: Showing & { still: number; delayMs: number },
): Uint8Array {
  const frames = moments.map((moment) => {
    const { sheet } = sheetOf(showing.sizePx, 1, 1);
    drawMoment(sheet, [0, 0], moment, showing);
    drawLegend(sheet, moment.colouring.legend);
    return sheet;
  });
  const { widthPx, heightPx } = frames[0];
  const pictures = frames.map(({ rgb }) => rgb);
  return animatedPng(pictures, { widthPx, heightPx, delayMs, still: pictures[still], poll: showing.poll });
}

/** An empty sheet for squares of this side, a line of text above each and the legend below all. */
function sheetOf(sizePx: number, columns: number, rows: number): { sheet: Sheet; head: number } {
  const scale = scaleOf(sizePx);
  const head = lineHigh(scale);
  const [widthPx, heightPx] = [columns * sizePx, rows * (sizePx + head) + lineHigh(scale)];
  return { sheet: { rgb: new Uint8Array(3 * widthPx * heightPx).fill(255), widthPx, heightPx, scale }, head };
}

/** Its caption, and below it the picture with the floor. */
function drawMoment(sheet: Sheet, [x, y]: readonly [number, number], { graph, colouring, caption }: Moment, showing: Showing): void {
  const { extent, sizePx, poll } = showing;
  const { rgb, pixelMm } = shot(graph, extent, { view: 'front', cut: false, sizePx, colouring, poll });
  const floor = Math.round(sizePx / 2 + extent.middle[2] / pixelMm);
  const top = y + lineHigh(sheet.scale);
  for (let j = 0; j < sizePx; j++) {
    const ground = j < floor ? null : j < floor + sheet.scale ? LINE : GROUND;
    const row = rgb.subarray(3 * j * sizePx, 3 * (j + 1) * sizePx);
    for (let i = 0; ground && i < sizePx; i++) if (row[3 * i] + row[3 * i + 1] + row[3 * i + 2] === 765) row.set(ground, 3 * i);
    sheet.rgb.set(row, 3 * ((top + j) * sheet.widthPx + x));
  }
  drawText(sheet, [x + lineHigh(sheet.scale) / 2, y + lineHigh(sheet.scale) / 4], caption, INK);
}
