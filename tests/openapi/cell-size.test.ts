import { describe, expect, it } from 'vitest';
import { parameterSet, settle } from '../../openapi/index.ts';
import { cellSize, goldberg, statistics } from '../../worker/engine/tiling/index.ts';

const asked = (tiling: object) => ({
  carrier: { shape: 'sphere', outsideDiameterMm: 162.3 },
  tiling: { kind: 'goldberg', ...tiling },
  layers: [{ depthMm: 0, strutDiameterMm: 2 }],
  links: { pattern: 'none' },
});
const settled = (cellSizeMm: number) => settle(parameterSet.parse(asked({ cellSizeMm }))).tiling;
const radius = (162.3 - 2) / 2;

describe('a cell size', () => {
  it('takes the tiling whose cells come nearest, and m and n stay beside it', () => {
    for (const [m, n] of [
      [1, 0],
      [1, 1],
      [3, 3],
      [5, 0],
      [4, 3],
      [20, 0],
    ]) {
      const size = cellSize(m * m + m * n + n * n, radius);
      expect(settled(size)).toMatchObject({ m, n, cellSizeMm: size });
      // T = 399 and 400 are the closest, 0.12 % apart in size: a ten-thousandth more leads to the same tiling
      expect(settled(size * 1.0001)).toMatchObject({ m, n });
    }
  });

  it('prefers mirror planes where several tilings have one T: 49 is (7,0) and (5,3)', () => {
    expect(settled(cellSize(49, radius))).toMatchObject({ m: 7, n: 0 });
  });

  it('is the mean size across flats: within 2 % of sqrt(3) times the mean strut of an even tiling', () => {
    // pentagons are smaller than hexagons, and a chord shorter than its arc: both below 2 % from T = 27
    const { edge } = statistics(goldberg(3, 3));
    expect(Math.abs((Math.sqrt(3) * edge.mean * radius) / cellSize(27, radius) - 1)).toBeLessThan(0.02);
  });

  it('is refused beside m or n, and so is a tiling that names neither', () => {
    const pointers = (tiling: object) => parameterSet.safeParse(asked(tiling)).error?.issues.map(({ path }) => path.join('/'));
    expect(pointers({ cellSizeMm: 20, m: 3, n: 3 })).toEqual(['tiling/cellSizeMm']);
    expect(pointers({ m: 3 })).toEqual(['tiling/n']);
    expect(pointers({})).toEqual(['tiling/m']);
  });
});
