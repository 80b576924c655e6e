import type { Finished } from './comparison.ts';
import { fixed } from './text.ts';

/** Size of the picture and of its plot, in pixels. */
const [WIDE, HIGH] = [760, 420];
const PLOT = { left: 80, right: 560, top: 50, bottom: 350 };
/** A blue and an orange that people with any kind of colour blindness tell apart; met and missed differ in shape and in words as well. */
const [BLUE, ORANGE] = ['#0072b2', '#e69f00'];
const GRID_G = 50;

/** A picture (SVG) of the mass of each version, with the band that is wanted. */
export function massPicture(all: readonly Finished[], band: { min: number; max: number }): string {
  const masses = all.map(({ result }) => result.massProperties.massG);
  const top = GRID_G * Math.ceil((1.05 * Math.max(band.max, ...masses)) / GRID_G);
  const y = (massG: number) => PLOT.bottom - ((PLOT.bottom - PLOT.top) * massG) / top;
  const x = (k: number) => PLOT.left + ((PLOT.right - PLOT.left) * (k + 0.5)) / all.length;
  const points = masses.map((massG, k) => ({ x: x(k), y: y(massG), massG, met: massG >= band.min && massG <= band.max }));
  const ticks = Array.from({ length: top / GRID_G + 1 }, (_, k) => k * GRID_G);

  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDE} ${HIGH}" font-family="sans-serif" font-size="14" role="img">`,
    `<title>Mass of each version against the band of ${band.min} to ${band.max} g</title>`,
    `<rect width="${WIDE}" height="${HIGH}" fill="#fff"/>`,
    text(PLOT.left, 28, 'Mass of each version', 'start'),
    ...ticks.flatMap((g) => [line(PLOT.left, y(g), PLOT.right, y(g), 'stroke="#ddd"'), text(PLOT.left - 10, y(g) + 5, String(g), 'end')]),
    `<rect x="${PLOT.left}" y="${px(y(band.max))}" width="${PLOT.right - PLOT.left}" height="${px(y(band.min) - y(band.max))}" fill="${ORANGE}"/>`,
    text(PLOT.right + 10, y((band.min + band.max) / 2) + 5, `wanted: ${band.min} to ${band.max} g`, 'start'),
    `<polyline points="${points.map((p) => `${px(p.x)},${px(p.y)}`).join(' ')}" fill="none" stroke="${BLUE}" stroke-width="2"/>`,
    ...points.flatMap((p, k) => [
      marker(p),
      text(p.x + 10, p.y + 22, `${fixed(p.massG, 1)} g`, 'start'),
      text(p.x, PLOT.bottom + 24, String(all[k].version.number)),
    ]),
    line(PLOT.left, PLOT.bottom, PLOT.right, PLOT.bottom, 'stroke="#333"'),
    line(PLOT.left, PLOT.top, PLOT.left, PLOT.bottom, 'stroke="#333"'),
    text((PLOT.left + PLOT.right) / 2, PLOT.bottom + 50, 'version'),
    `<text transform="translate(28 ${(PLOT.top + PLOT.bottom) / 2}) rotate(-90)" text-anchor="middle">mass, g</text>`,
    ...legend(),
    '</svg>',
    '',
  ].join('\n');
}

const px = (value: number): string => fixed(value, 1);

const line = (x1: number, y1: number, x2: number, y2: number, style: string): string =>
  `<line x1="${px(x1)}" y1="${px(y1)}" x2="${px(x2)}" y2="${px(y2)}" ${style}/>`;

const text = (x: number, y: number, content: string, anchor: 'start' | 'middle' | 'end' = 'middle'): string =>
  `<text x="${px(x)}" y="${px(y)}" text-anchor="${anchor}" stroke="#fff" stroke-width="4" paint-order="stroke">${content}</text>`;

/** A full circle where the band is met, an open square where it is missed. */
function marker({ x, y, met }: { x: number; y: number; met: boolean }): string {
  const style = `stroke="${BLUE}" stroke-width="2"`;
  if (met) return `<circle cx="${px(x)}" cy="${px(y)}" r="7" fill="${BLUE}" ${style}/>`;
  return `<rect x="${px(x - 6)}" y="${px(y - 6)}" width="12" height="12" fill="#fff" ${style}/>`;
}

function legend(): string[] {
  const x = PLOT.right + 24;
  return [
    marker({ x, y: PLOT.bottom - 40, met: false }),
    text(x + 16, PLOT.bottom - 35, 'misses the band', 'start'),
    marker({ x, y: PLOT.bottom - 14, met: true }),
    text(x + 16, PLOT.bottom - 9, 'meets the band', 'start'),
  ];
}
