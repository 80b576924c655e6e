import { describe, expect, it } from 'vitest';
import { MAX_T, tilingOf } from '../../../openapi/index.ts';
import { cellSize, goldberg, neighbouringTilings } from '../../../worker/engine/tiling/index.ts';

/** Every T = m^2 + mn + n^2 up to the largest. */
const SIZES = [...new Set(Array.from({ length: 441 }, (_, k) => [Math.floor(k / 21), k % 21]).map(([m, n]) => (m + n) ** 2 - m * n))]
  .filter((T) => T >= 1 && T <= MAX_T)
  .sort((a, b) => a - b);

describe('cell size', () => {
  it('is that of 10T + 2 hexagons of the sphere, across flats', () => {
    for (const T of [1, 27, 400]) {
      const size = cellSize(T, 80);
      // area of a regular hexagon by its size across flats
      expect((10 * T + 2) * (Math.sqrt(3) / 2) * size ** 2).toBeCloseTo(4 * Math.PI * 80 ** 2, 6);
    }
  });
});

describe('neighbouring tilings', () => {
  it('are the two next sizes on either side, fewer at the ends of the list', () => {
    SIZES.forEach((T, k) => {
      const found = neighbouringTilings(T, 80).map((each) => each.triangulationNumber);
      expect(found).toEqual([SIZES[k - 2], SIZES[k - 1], SIZES[k + 1], SIZES[k + 2]].filter((each) => each !== undefined));
    });
  });

  it('are named by m and n of their T, and told with their cell size', () => {
    for (const { m, n, triangulationNumber, cellSizeMm } of neighbouringTilings(49, 75)) {
      expect(goldberg(m, n).T).toBe(triangulationNumber);
      expect(cellSizeMm).toBe(cellSize(triangulationNumber, 75));
    }
  });

  it('are the tilings that a posted cell size takes', () => {
    const set = (cellSizeMm: number) => ({
      carrier: { shape: 'sphere' as const, outsideDiameterMm: 162 },
      tiling: { kind: 'goldberg' as const, cellSizeMm, relaxation: 'none' as const, orientation: 'split-plane' as const },
      layers: [{ depthMm: 0, strutDiameterMm: 2 }],
      links: { pattern: 'none' as const },
    });
    for (const T of SIZES) {
      for (const { m, n, cellSizeMm } of neighbouringTilings(T, 80)) expect(tilingOf(set(cellSizeMm))).toEqual({ m, n });
    }
  });

  it('prefer a tiling with mirror planes where there are several of one T', () => {
    expect(neighbouringTilings(48, 75)).toContainEqual(expect.objectContaining({ m: 7, n: 0, triangulationNumber: 49 }));
  });
});
