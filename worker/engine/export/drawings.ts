import type { Loop } from '../mesh/index.ts';
import { cssColour, ROLE_COLOURS } from '../picture/index.ts';
import type { FlatCells } from './flat-cells.ts';

/** Room round a drawing, mm. */
const MARGIN = 4;
const mm = (value: number): string => String(Number(value.toFixed(3)));

/** An SVG whose user unit is a millimetre, y upwards. Width and height are those of the part. */
function drawing(title: string, [x0, y0, x1, y1]: readonly number[], content: readonly string[]): string {
  const [width, height] = [x1 - x0 + 2 * MARGIN, y1 - y0 + 2 * MARGIN];
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${mm(width)}mm" height="${mm(height)}mm" viewBox="${mm(x0 - MARGIN)} ${mm(-y1 - MARGIN)} ${mm(width)} ${mm(height)}" role="img" aria-label="${title}">`,
    `<title>${title}</title>`,
    '<g transform="scale(1 -1)">',
    ...content,
    '</g>',
    '</svg>',
    '',
  ].join('\n');
}

/** Outlines of a section, the solid filled: true to scale, one user unit a millimetre. `reachMm`: half the width drawn. */
export function sectionSvg(loops: readonly Loop[], zMm: number, reachMm: number): string {
  const outline = `<path d="${loops.map(pathOf).join('')}" fill="#9aa3ab" fill-rule="evenodd" stroke="#1b2126" stroke-width="0.15"/>`;
  return drawing(`Section at z = ${mm(zMm)} mm`, [-reachMm, -reachMm, reachMm, reachMm], loops.length > 0 ? [outline] : []);
}

/** Flattened cells as a drawing; five-sided ones are filled. */
export function cellsSvg({ cells, reachMm: [x, y] }: FlatCells): string {
  const paths = cells.map(({ sides, outline }) => {
    const fill = sides === 5 ? cssColour(ROLE_COLOURS[1]) : 'none';
    return `<path d="${pathOf(outline)}" fill="${fill}" stroke="#1b2126" stroke-width="0.4"/>`;
  });
  return drawing('Cells of layer 0, upper and lower half', [-x, -y, x, y], paths);
}

/** A closed path through points, x and y in turn. */
function pathOf(points: ArrayLike<number>): string {
  const places: string[] = [];
  for (let k = 0; k < points.length; k += 2) places.push(`${mm(points[k])} ${mm(points[k + 1])}`);
  return `M${places.join('L')}Z`;
}
