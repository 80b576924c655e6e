import { describe, expect, it } from 'vitest';
import { cellsDxf, cellsSvg, flatCells, sectionSvg } from '../../../worker/engine/export/index.ts';
import { readDrawing } from '../../support/drawing.ts';
import { latticeOf } from '../lattice/samples.ts';

const R = 50;
const lattice = latticeOf({ m: 2, n: 1, outsideDiameterMm: 2 * R + 4, layers: [{ depthMm: 0, strutDiameterMm: 4 }] });
const flat = flatCells(lattice);

/** Twice a polygon's area, counter-clockwise positive. */
const twiceArea = (outline: readonly number[]): number => {
  let sum = 0;
  for (let k = 0; k < outline.length; k += 2) {
    const next = (k + 2) % outline.length;
    sum += outline[k] * outline[next + 1] - outline[next] * outline[k + 1];
  }
  return sum;
};

/** The groups of a drawing exchange file: a code on a line, its value on the next. */
function groupsOf(text: string): [number, string][] {
  const lines = text.trimEnd().split('\n');
  expect(lines.length % 2).toBe(0);
  return Array.from({ length: lines.length / 2 }, (_, k) => [Number(lines[2 * k]), lines[2 * k + 1]]);
}

/** Closed polylines of the entities, with the layer of each. */
function polylinesOf(text: string): { layer: string; outline: number[] }[] {
  const found: { layer: string; outline: number[] }[] = [];
  let kind = '';
  for (const [code, value] of groupsOf(text)) {
    if (code === 0) kind = value;
    if (code === 0 && value === 'POLYLINE') found.push({ layer: '', outline: [] });
    if (kind === 'POLYLINE' && code === 8) found.at(-1)!.layer = value;
    if (kind === 'POLYLINE' && code === 70) expect(value).toBe('1');
    if (kind === 'VERTEX' && (code === 10 || code === 20)) found.at(-1)!.outline.push(Number(value));
  }
  return found;
}

describe('cells laid flat', () => {
  it('keep their areas wherever they lie: of GP(2,1) twelve and sixty are alike, and together cover the sphere', () => {
    const areasOf = (sides: number) => flat.cells.filter((cell) => cell.sides === sides).map(({ outline }) => twiceArea(outline) / 2);
    const [five, six] = [areasOf(5), areasOf(6)];
    // edges that bend are drawn in eight straight pieces, which cut a little off
    for (const areas of [five, six]) expect(Math.max(...areas) / Math.min(...areas) - 1).toBeLessThan(2e-3);
    expect((12 * five[0] + 60 * six[0]) / (4 * Math.PI * lattice.nodeRadiusMm[0] ** 2)).toBeCloseTo(1, 2);
  });

  it('are the same outlines in both kinds of file; the twelve five-sided cells have a layer of their own', () => {
    const polylines = polylinesOf(cellsDxf(flat));
    expect(polylines.map(({ layer }) => layer === 'PENTAGONS')).toEqual(flat.cells.map(({ sides }) => sides === 5));
    for (const [k, { outline }] of polylines.entries()) {
      expect(outline.length).toBe(flat.cells[k].outline.length);
      // written with four decimals
      expect(Math.max(...outline.map((x, i) => Math.abs(x - flat.cells[k].outline[i])))).toBeLessThanOrEqual(0.5001e-4);
    }
    const svg = cellsSvg(flat);
    for (const half of ['upper half', 'lower half']) expect(svg).toContain(half);
    expect(svg.match(/<path /g)!.length).toBe(polylines.length);
  });
});

describe('a section as a drawing', () => {
  const square = [-10, -10, 10, -10, 10, 10, -10, 10];
  it('is true to scale, with its height and a bar of 20 mm below the part', () => {
    const { root, text } = readDrawing(sectionSvg([square], -2.5, 30));
    const [, , width, height] = root.getAttribute('viewBox')!.split(' ').map(Number);
    expect([root.getAttribute('width'), root.getAttribute('height')]).toEqual([`${width}mm`, `${height}mm`]);
    expect(root.getElementsByTagName('path')[0]!.getAttribute('d')).toBe('M-10 -10L10 -10L10 10L-10 10Z');
    expect(text).toContain('Section at z = -2.5 mm');
    const bar = root.getElementsByTagName('polyline')[0]!.getAttribute('points')!.split(' ');
    const [xs, ys] = [0, 1].map((k) => bar.map((point) => Number(point.split(',')[k])));
    expect(Math.max(...xs) - Math.min(...xs)).toBe(20);
    expect(text).toContain('20 mm');
    // y grows downwards in the picture
    expect(Math.min(...ys)).toBeGreaterThan(30);
  });

  it('says so where nothing is', () => {
    const { root, text } = readDrawing(sectionSvg([], 90, 30));
    expect(root.getElementsByTagName('path')).toHaveLength(0);
    expect(text).toContain('Section at z = 90 mm: nothing is there');
  });
});
