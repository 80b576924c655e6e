import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clearOpenings, type Openings, powderEscape } from '../../../worker/engine/print/index.ts';
import { type Windows, widestPaths } from '../../../worker/engine/print/widest-path.ts';
import { CUBE, cageLattice, DODECAHEDRON } from './samples.ts';

/** Independent route: the widest way to the source is the largest width at which the windows no narrower still connect. */
function bruteWidth(spaceCount: number, { from, to, width }: Windows, source: number): number[] {
  const widths = new Array<number>(spaceCount).fill(0);
  for (const limit of [...new Set(width)].filter((each) => each > 0).sort((a, b) => a - b)) {
    const reached = new Set([source]);
    for (let round = 0; round < spaceCount; round++) {
      width.forEach((each, i) => {
        if (each >= limit && (reached.has(from[i]) || reached.has(to[i]))) reached.add(from[i]).add(to[i]);
      });
    }
    for (const space of reached) widths[space] = limit;
  }
  widths[source] = Infinity;
  return widths;
}

describe('widest paths', () => {
  it('agree with opening the windows step by step; each bottleneck is as wide as its path', () => {
    const window = fc.tuple(fc.integer({ min: 0, max: 9 }), fc.integer({ min: 0, max: 9 }), fc.integer({ min: 0, max: 6 }));
    fc.assert(
      fc.property(fc.array(window, { maxLength: 30 }), fc.integer({ min: 0, max: 9 }), (rows, source) => {
        const windows = {
          from: Int32Array.from(rows, (row) => row[0]),
          to: Int32Array.from(rows, (row) => row[1]),
          width: Float64Array.from(rows, (row) => row[2]),
        };
        const { width, bottleneck } = widestPaths(10, windows, source);
        expect([...width]).toEqual(bruteWidth(10, windows, source));
        bottleneck.forEach((at, space) => {
          if (space !== source) expect(at < 0 ? 0 : windows.width[at]).toBe(width[space]);
          expect(at < 0).toBe(space === source || width[space] === 0);
        });
      }),
      { seed: 7 },
    );
  });
});

describe('way out of a lattice', () => {
  const shell = cageLattice(CUBE, { scales: [10, 6], diameters: [2, 2], postDiameter: 2 });
  const wide = (outer: number, inner: number, side: number): Openings => ({
    cells: [new Float64Array(6).fill(outer), new Float64Array(6).fill(inner)],
    sides: [new Float64Array(12).fill(side)],
  });

  it('of one layer leads through its cells', () => {
    const lattice = cageLattice(DODECAHEDRON, { scales: [20], diameters: [2] });
    const openings = clearOpenings(lattice);
    expect(powderEscape(lattice, openings).leastMm).toBe(Math.max(...openings.cells[0]));
  });

  it('of two layers leads from the core through both', () => {
    expect(powderEscape(shell, wide(9, 5, 1)).leastMm).toBe(5);
    expect(powderEscape(shell, wide(4, 5, 1)).leastMm).toBe(4);
  });

  it('of a prism whose cell is closed leads through its neighbours, by the side or by the core', () => {
    const openings = wide(9, 5, 7);
    openings.cells[0][2] = 0.5;
    const bySide = powderEscape(shell, openings);
    // The core is the narrowest space now: the closed prism leaves through a side window of 7.
    expect(bySide.leastMm).toBe(5);
    expect(bySide.widthMm[2 + 2]).toBe(7);
    openings.sides[0].fill(1);
    expect(powderEscape(shell, openings).widthMm[2 + 2]).toBe(5);
    openings.cells[1][2] = 0.2;
    const last = powderEscape(shell, openings);
    expect(last.leastMm).toBe(1);
    expect(last.places(3)).toHaveLength(1);
    expect(last.places(3)[0]).toMatchObject({ kind: 'strut', layer: 0 });
    // The window it names is one of the four sides of that prism.
    expect([...shell.cellStruts.subarray(shell.cellPtr[2], shell.cellPtr[3])]).toContain(last.places(3)[0].index);
  });

  it('names the worst windows first, and every window of a closed space', () => {
    const openings = wide(9, 5, 0);
    openings.cells[0].fill(0);
    openings.cells[0][4] = 2;
    openings.cells[1][4] = 3;
    openings.cells[1][1] = 0;
    const found = powderEscape(shell, openings);
    expect(found.leastMm).toBe(0);
    expect(found.widthMm[1]).toBe(2);
    const places = found.places(4);
    expect(places.slice(-1)).toEqual([{ kind: 'cell', index: 4, layer: 0 }]);
    expect(places).toContainEqual({ kind: 'cell', index: 1, layer: 1 });
    expect(places).not.toContainEqual({ kind: 'cell', index: 0, layer: 0 });
  });

  it('never narrows when a window is widened', () => {
    const opening = fc.integer({ min: 0, max: 9 });
    fc.assert(
      fc.property(fc.array(opening, { minLength: 24, maxLength: 24 }), fc.integer({ min: 0, max: 23 }), (values, at) => {
        const openings = (list: number[]): Openings => ({
          cells: [Float64Array.from(list.slice(0, 6)), Float64Array.from(list.slice(6, 12))],
          sides: [Float64Array.from(list.slice(12))],
        });
        const before = powderEscape(shell, openings(values)).widthMm;
        const after = powderEscape(shell, openings(values.map((value, i) => (i === at ? value + 3 : value)))).widthMm;
        after.forEach((width, space) => expect(width).toBeGreaterThanOrEqual(before[space]));
      }),
      { seed: 8 },
    );
  });

  it('is at least as wide for every prism as its own outer cell', () => {
    const lattice = cageLattice(DODECAHEDRON, { scales: [30, 22, 15], diameters: [3, 3, 2], postDiameter: 3 });
    const openings = clearOpenings(lattice);
    const { widthMm, leastMm } = powderEscape(lattice, openings);
    openings.cells[0].forEach((opening, cell) => expect(widthMm[2 + cell]).toBeGreaterThanOrEqual(opening));
    expect(widthMm).toHaveLength(2 + 2 * 12);
    expect(leastMm).toBe(Math.min(...widthMm));
  });
});
