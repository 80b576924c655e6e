import type { Lattice } from '../lattice/index.ts';
import type { Loop } from '../mesh/index.ts';
import { cssColour, ROLE_COLOURS } from '../picture/index.ts';

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
  const path = (loop: Loop): string => {
    const points: string[] = [];
    for (let k = 0; k < loop.length; k += 2) points.push(`${mm(loop[k])} ${mm(loop[k + 1])}`);
    return `M${points.join('L')}Z`;
  };
  const outline = `<path d="${loops.map(path).join('')}" fill="#9aa3ab" fill-rule="evenodd" stroke="#1b2126" stroke-width="0.15"/>`;
  return drawing(`Section at z = ${mm(zMm)} mm`, [-reachMm, -reachMm, reachMm, reachMm], loops.length > 0 ? [outline] : []);
}

/** Cells at the edge reach this much over their disc. */
const OVER = 1.2;
/** Points in which an edge is drawn. */
const PIECES = 8;

/**
 * The cells of layer 0 on two discs, the upper half on the left and the lower one on the right, both seen from outside: Lambert's azimuthal
 * projection, which keeps areas (Snyder 1987, section 24). Five-sided cells are filled.
 */
export function cellsSvg({ graph, cellCount, cellPtr, cellNodes, nodeRadiusMm: [radius] }: Lattice): string {
  const reach = Math.SQRT2 * radius;
  const paths: string[] = [];
  for (const half of [1, -1]) {
    const middle = half * -OVER * reach;
    const flat = (n: readonly number[]): string => {
      const scale = radius * Math.sqrt(2 / (1 + half * n[2]));
      return `${mm(middle + half * scale * n[0])} ${mm(scale * n[1])}`;
    };
    for (let c = 0; c < cellCount; c++) {
      const ring = Array.from(cellNodes.subarray(cellPtr[c], cellPtr[c + 1]), (v) => [0, 1, 2].map((k) => graph.xyz[3 * v + k] / radius));
      // Cells that reach over the edge of a disc are on both.
      if (Math.max(...ring.map((n) => half * n[2])) <= 1e-9 || Math.min(...ring.map((n) => half * n[2])) < -0.9) continue;
      const points = ring.flatMap((p, k) =>
        Array.from({ length: PIECES }, (_, i) => flat(between(p, ring[(k + 1) % ring.length], i / PIECES))),
      );
      const fill = ring.length === 5 ? cssColour(ROLE_COLOURS[1]) : 'none';
      paths.push(`<path d="M${points.join('L')}Z" fill="${fill}" stroke="#1b2126" stroke-width="0.4"/>`);
    }
  }
  return drawing('Cells of layer 0, upper and lower half', [-2 * OVER * reach, -OVER * reach, 2 * OVER * reach, OVER * reach], paths);
}

/** A direction between two. */
function between(p: readonly number[], q: readonly number[], share: number): number[] {
  const mixed = p.map((x, k) => x + share * (q[k] - x));
  const length = Math.hypot(mixed[0], mixed[1], mixed[2]);
  return mixed.map((x) => x / length);
}
