import { describe, expect, it } from 'vitest';
import { idealEdge } from '../../worker/engine/lattice/index.ts';
import { goldberg, statistics } from '../../worker/engine/tiling/index.ts';

/**
 * Edge statistics of Goldberg polyhedra on the unit sphere, as printed in a table that was computed with SciPy from first principles:
 * m, n, T, V, E, F, edge length min, mean, max, max/min, sum, ideal hexagon's edge, face angle min, max (degrees), distinct lengths.
 */
const TABLE = `
1,0 1 20 30 12 .71364 .71364 .71364 1.000 21.409 .63488 108 108 1
1,1 3 60 90 32 .37968 .40453 .41696 1.098 36.408 .38878 108 120 2
2,0 4 80 120 42 .34554 .34932 .35310 1.022 41.918 .33936 108 121.4 2
2,1 7 140 210 72 .25191 .26307 .27771 1.102 55.245 .25919 108 124.7 4
3,0 9 180 270 92 .21915 .23197 .24482 1.117 62.632 .22929 108 124.2 4
2,2 12 240 360 122 .18260 .20056 .21063 1.154 72.201 .19911 108 124.7 4
3,1 13 260 390 132 .17630 .19273 .20437 1.159 75.163 .19142 108 126.0 7
4,0 16 320 480 162 .15521 .17376 .18539 1.194 83.407 .17279 108 125.0 6
3,2 19 380 570 192 .14057 .15930 .17088 1.216 90.801 .15872 108 126.1 10
5,0 25 500 750 252 .11892 .13894 .14984 1.260 104.206 .13854 108 125.4 9
3,3 27 540 810 272 .11504 .13361 .14396 1.251 108.225 .13335 108 125.5 9
6,0 36 720 1080 362 .09601 .11576 .12531 1.305 125.019 .11559 108 125.6 10
4,3 37 740 1110 372 .09675 .11412 .12392 1.281 126.675 .11403 108 126.3 17
5,3 49 980 1470 492 .08232 .09916 .10803 1.312 145.772 .09915 108 126.7 21
7,0 49 980 1470 492 .08036 .09921 .10803 1.344 145.839 .09915 108 126.0 16
8,0 64 1280 1920 642 .06904 .08680 .09475 1.372 166.664 .08680 108 126.6 20`;

const rows = TABLE.trim()
  .split('\n')
  .map((line) => line.split(' '));
/** The number with as many decimals as the printed one has, without a leading zero where that one has none. */
const printedLike = (value: number, printed: string) => {
  const decimals = printed.split('.')[1]?.length ?? 0;
  return printed.startsWith('.') ? value.toFixed(decimals).replace(/^0/, '') : value.toFixed(decimals);
};

describe('edge statistics of GP(m,n) [table computed with SciPy; status: computed]', () => {
  it.each(rows)('GP(%s): all printed digits, T = %s', (pair, T, V, E, F, min, mean, max, ratio, sum, ideal, least, widest, distinct) => {
    const [m, n] = pair.split(',').map(Number);
    const tiling = goldberg(m, n);
    const { edge, faceAngleDeg, distinctLengths } = statistics(tiling);
    expect([tiling.T, tiling.nodeCount, tiling.edgeCount, tiling.cellCount]).toEqual([T, V, E, F].map(Number));
    const found = [edge.min, edge.mean, edge.max, edge.max / edge.min, idealEdge(tiling.T), faceAngleDeg.min, faceAngleDeg.max];
    const printed = [min, mean, max, ratio, ideal, least, widest];
    expect(found.map((value, k) => printedLike(value, printed[k]))).toEqual(printed);
    expect(distinctLengths).toBe(Number(distinct));
    // two printed sums, of GP(4,0) and GP(4,3), are one unit of the last digit above the exact 83.40648 and 126.67448
    expect(Math.abs(edge.sum - Number(sum))).toBeLessThan(0.001);
  });

  it('the two sums that the table prints one unit of the last digit too high', () => {
    expect(statistics(goldberg(4, 0)).edge.sum.toFixed(5)).toBe('83.40648');
    expect(statistics(goldberg(4, 3)).edge.sum.toFixed(5)).toBe('126.67448');
    const rounded = rows.filter(([pair, , , , , , , , , sum]) => {
      const [m, n] = pair.split(',').map(Number);
      return statistics(goldberg(m, n)).edge.sum.toFixed(3) !== sum;
    });
    expect(rounded.map(([pair]) => pair)).toEqual(['4,0', '4,3']);
  });
});

describe('textbook solids [status: closed forms; central angles from memory]', () => {
  it('GP(1,0) is the dodecahedron: edge 0.713644 of its radius, central angle 41.8103 degrees', () => {
    const { edge } = statistics(goldberg(1, 0));
    expect(edge.min.toFixed(6)).toBe('0.713644');
    expect(edge.max.toFixed(6)).toBe('0.713644');
    expect(((2 * Math.asin(edge.mean / 2) * 180) / Math.PI).toFixed(4)).toBe('41.8103');
  });

  it('the seeds of GP(1,0) are the icosahedron: central angle 63.4349 degrees', () => {
    const { cellDirection } = goldberg(1, 0);
    const cosines = Array.from({ length: 11 }, (_, k) =>
      [0, 1, 2].reduce((sum, i) => sum + cellDirection[i] * cellDirection[3 * (k + 1) + i], 0),
    );
    expect(((Math.acos(Math.max(...cosines)) * 180) / Math.PI).toFixed(4)).toBe('63.4349');
  });
});
