import type { Loop } from '../mesh/index.ts';
import { cssColour, ROLE_COLOURS } from '../picture/index.ts';
import type { FlatCells } from './flat-cells.ts';

/** Room round a drawing, mm. */
const MARGIN = 4;
const mm = (value: number): string => String(Number(value.toFixed(3)));

/** Below it: a bar of this length, and what is written, letters LETTER_MM high. */
const [FOOT, BAR_MM, LETTER_MM] = [10, 20, 4];
const INK = '#1b2126';

interface Note {
  readonly x: number;
  readonly text: string;
}

/** An SVG whose user unit is a millimetre, y upwards, on white where it is looked at. Below the part are a bar of 20 mm and notes, as a group of their own. */
function drawing(title: string, [x0, y0, x1, y1]: readonly number[], content: readonly string[], notes: readonly Note[]): string {
  const [width, height] = [x1 - x0 + 2 * MARGIN, y1 - y0 + 2 * MARGIN + FOOT];
  const line = -y0 + MARGIN + FOOT / 2;
  const bar = [[-1, 1, 0].map((y) => [x0, line + y]), [0, -1, 1].map((y) => [x0 + BAR_MM, line + y])].flat();
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${mm(width)}mm" height="${mm(height)}mm" viewBox="${mm(x0 - MARGIN)} ${mm(-y1 - MARGIN)} ${mm(width)} ${mm(height)}" role="img" aria-label="${title}" style="background:white">`,
    `<title>${title}</title>`,
    '<g transform="scale(1 -1)">',
    ...content,
    '</g>',
    `<g id="legend" font-family="system-ui, sans-serif" font-size="${LETTER_MM}" fill="${INK}">`,
    `<polyline points="${bar.map(([x, y]) => `${mm(x)},${mm(y)}`).join(' ')}" fill="none" stroke="${INK}" stroke-width="0.4"/>`,
    `<text x="${mm(x0 + BAR_MM + 2)}" y="${mm(line + 1.4)}">${BAR_MM} mm</text>`,
    ...notes.map(({ x, text }) => `<text x="${mm(x)}" y="${mm(line + 1.4)}" text-anchor="middle">${text}</text>`),
    '</g>',
    '</svg>',
    '',
  ].join('\n');
}

/** Outlines of a section, the solid filled: true to scale, one user unit a millimetre. `reachMm`: half the width drawn. */
export function sectionSvg(loops: readonly Loop[], zMm: number, reachMm: number): string {
  const outline = `<path d="${loops.map(pathOf).join('')}" fill="#9aa3ab" fill-rule="evenodd" stroke="${INK}" stroke-width="0.15"/>`;
  const title = `Section at z = ${mm(zMm)} mm`;
  const text = loops.length > 0 ? title : `${title}: nothing is there`;
  return drawing(title, [-reachMm, -reachMm, reachMm, reachMm], loops.length > 0 ? [outline] : [], [{ x: 0, text }]);
}

/** Flattened cells as a drawing; five-sided ones are filled. */
export function cellsSvg({ cells, reachMm: [x, y] }: FlatCells): string {
  const paths = cells.map(({ sides, outline }) => {
    const fill = sides === 5 ? cssColour(ROLE_COLOURS[1]) : 'none';
    return `<path d="${pathOf(outline)}" fill="${fill}" stroke="${INK}" stroke-width="0.4"/>`;
  });
  return drawing('Cells of layer 0, upper and lower half', [-x, -y, x, y], paths, [
    { x: -x / 2, text: 'upper half' },
    { x: x / 2, text: 'lower half, also seen from outside' },
  ]);
}

/** A closed path through points, x and y in turn. */
function pathOf(points: ArrayLike<number>): string {
  const places: string[] = [];
  for (let k = 0; k < points.length; k += 2) places.push(`${mm(points[k])} ${mm(points[k + 1])}`);
  return `M${places.join('L')}Z`;
}
