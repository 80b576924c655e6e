import type { Colour } from './colours.ts';
import { eachDot, LETTER } from './letters.ts';

export interface LegendEntry {
  readonly text: string;
  readonly colour: Colour;
}

/** A picture that is written on: 3 numbers per point, and the points that one of a letter takes. */
export interface Sheet {
  readonly rgb: Uint8Array;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly scale: number;
}

export const INK: Colour = [27, 33, 38];
export const LINE: Colour = [90, 98, 105];

/** Letters are a thirtieth of a picture's width high, so that they read at half its size too; never so small that dots run together. */
export const scaleOf = (widthPx: number): number => Math.max(2, Math.round(widthPx / 280));
/** A line of text with the room about it, points. */
export const lineHigh = (scale: number): number => 2 * LETTER.high * scale;

function paint({ rgb, widthPx, heightPx }: Sheet, x: number, y: number, colour: Colour): void {
  if (x >= 0 && y >= 0 && x < widthPx && y < heightPx) rgb.set(colour, 3 * (y * widthPx + x));
}

/** A line of text, right and down from a corner. */
export function drawText(sheet: Sheet, [x, y]: readonly [number, number], text: string, colour: Colour): void {
  const { scale } = sheet;
  eachDot(text, (dx, dy) => {
    for (let k = 0; k < scale * scale; k++) paint(sheet, x + dx * scale + (k % scale), y + dy * scale + Math.floor(k / scale), colour);
  });
}

/** Points of letters beside a text of the legend: its square, the gap after it, and the gap before the next. */
const BESIDE = LETTER.high + 3 + 6;

/** A square of its colour before each text, in rows along the lower edge. */
export function drawLegend(sheet: Sheet, legend: readonly LegendEntry[]): void {
  const { widthPx, heightPx, scale } = sheet;
  const high = LETTER.high * scale;
  const rows: { x: number; entry: LegendEntry }[][] = [[]];
  let x = high;
  for (const entry of legend) {
    const wide = (LETTER.wide * entry.text.length + BESIDE) * scale;
    if (x + wide > widthPx + high && x > high) {
      rows.push([]);
      x = high;
    }
    rows.at(-1)!.push({ x, entry });
    x += wide;
  }
  for (const [k, row] of rows.entries()) {
    const y = heightPx - 1.5 * high * (rows.length - k);
    for (const { x: left, entry } of row) {
      for (let i = 0; i < high; i++) for (let j = 0; j < high; j++) paint(sheet, left + i, y + j, entry.colour);
      drawText(sheet, [left + high + 3 * scale, y], entry.text, INK);
    }
  }
}
