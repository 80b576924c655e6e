import type { StrutGraph } from '../lattice/index.ts';

/** Numbers as they are, to nine digits: a nanometre of a metre. */
const number = (value: number): string => String(Number(value.toPrecision(9)));
/** A field in quotes where it needs them (RFC 4180). */
const text = (value: string): string => (/[",\r\n]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value);
const table = (rows: readonly (readonly string[])[]): string => `${rows.map((row) => row.join(',')).join('\r\n')}\r\n`;

/** Every strut in the order of graph.json (RFC 4180): node numbers, places and diameters of its ends, length, role. */
export function strutsCsv({ strutCount, xyz, ends, diameters, roles, roleNames }: StrutGraph): string {
  const rows = [
    ['strut', 'nodeI', 'nodeJ', 'xIMm', 'yIMm', 'zIMm', 'xJMm', 'yJMm', 'zJMm', 'diameterIMm', 'diameterJMm', 'lengthMm', 'role'],
  ];
  for (let s = 0; s < strutCount; s++) {
    const [i, j] = [ends[2 * s], ends[2 * s + 1]];
    const [p, q] = [i, j].map((v) => [xyz[3 * v], xyz[3 * v + 1], xyz[3 * v + 2]]);
    const length = Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
    const numbers = [...p, ...q, diameters[2 * s], diameters[2 * s + 1], length].map(number);
    rows.push([String(s), String(i), String(j), ...numbers, text(roleNames[roles[s]])]);
  }
  return table(rows);
}

/** Every layer from the bottom upwards: height of the plane that tells it, area, length of the outline. */
export const layersCsv = (layers: readonly { readonly zMm: number; readonly areaMm2: number; readonly contourMm: number }[]): string =>
  table([
    ['layer', 'zMm', 'areaMm2', 'contourMm'],
    ...layers.map(({ zMm, areaMm2, contourMm }, k) => [String(k), ...[zMm, areaMm2, contourMm].map(number)]),
  ]);
