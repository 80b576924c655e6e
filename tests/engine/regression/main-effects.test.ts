import { describe, expect, it } from 'vitest';
import { deviates } from '../../../worker/engine/probability/index.ts';
import { mainEffects } from '../../../worker/engine/regression/index.ts';
import { sobolPoint } from '../../../worker/engine/sampling/index.ts';

const NUMBER = { choices: null };
const TWO = { choices: ['a', 'b'] };

describe('main effects', () => {
  it('have the mean and the spread of each level, and what it does by itself', () => {
    const rows = [[0], [1], [0], [1], [0]];
    const { mean, factors } = mainEffects([TWO], rows, [1, 10, 2, 14, 3]);
    expect(mean).toBe(6);
    expect(factors[0].levels).toEqual([
      { from: 0, to: 0, count: 3, mean: 2, deviation: 1, effect: -4 },
      { from: 1, to: 1, count: 2, mean: 12, deviation: Math.sqrt(8), effect: 6 },
    ]);
  });

  /**
   * sin x1 + 7 sin^2 x2 + 0.1 x3^4 sin x1 over -pi to pi (Ishigami and Homma 1990): the first explains (1 + 0.1 pi^4 / 5)^2 / 2 of the variance
   * 7^2 / 8 + 0.1 pi^4 / 5 + 0.01 pi^8 / 18 + 1 / 2, the second 7^2 / 8, the third nothing by itself: 0.3139, 0.4424, 0.
   */
  it('explain what is known of the function of Ishigami and Homma', () => {
    const rows = Array.from({ length: 4096 }, (_, k) => Array.from(sobolPoint(k, 3), (share) => Math.PI * (2 * share - 1)));
    const values = rows.map(([a, b, c]) => Math.sin(a) + 7 * Math.sin(b) ** 2 + 0.1 * c ** 4 * Math.sin(a));
    const { factors, rest } = mainEffects([NUMBER, NUMBER, NUMBER], rows, values);
    const [first, second, third] = factors.map(({ share }) => share!);
    // an interval of 2 pi / 20 hides the mean square of the slope over 12: 0.0146 of the second's 0.4424, less of the first's
    expect(Math.abs(first - 0.3139)).toBeLessThan(0.01);
    expect(Math.abs(second - 0.4424)).toBeLessThan(0.02);
    expect(third).toBeLessThan(0.005);
    expect(first + second + third + rest!).toBeCloseTo(1, 9);
  });

  it('are told apart where one factor does nearly all and the rows are few', () => {
    const { uniform } = deviates(1, 2);
    const rows = Array.from({ length: 80 }, (_, k) => [uniform(), k % 2]);
    const { factors } = mainEffects(
      [NUMBER, TWO],
      rows,
      rows.map(([x, choice]) => 10 * x + choice),
    );
    // what eight intervals leave of the number, 10 / 8 over the root of 12, is the noise of two means of 40: 0.08; three times that
    const [below, above] = factors[1].levels.map(({ effect }) => effect);
    expect(Math.abs(above - below - 1)).toBeLessThan(0.25);
    // 1 / 4 over 100 / 12 + 1 / 4: three per cent
    expect(factors[1].share).toBeGreaterThan(0.01);
    expect(factors[1].share).toBeLessThan(0.06);
  });

  it('explain nothing by chance', () => {
    const { normal, uniform } = deviates(1, 1);
    const found = Array.from({ length: 40 }, () => {
      const rows = Array.from({ length: 200 }, () => [uniform()]);
      return mainEffects([NUMBER], rows, rows.map(normal)).factors[0].share!;
    });
    // twenty levels of pure chance explain 10 % before what chance explains is taken off; after, below 0 as often as above
    expect(found.filter((each) => each === 0).length).toBeGreaterThan(10);
    expect(found.reduce((sum, each) => sum + each, 0) / 40).toBeLessThan(0.03);
  });

  it('keep equal numbers together, and say so where nothing can be told', () => {
    const rows = Array.from({ length: 400 }, (_, k) => [k % 37]);
    const { levels } = mainEffects([NUMBER], rows, rows.flat()).factors[0];
    expect(levels.reduce((sum, { count }) => sum + count, 0)).toBe(400);
    for (const [k, { from }] of levels.entries()) if (k > 0) expect(from).toBeGreaterThan(levels[k - 1].to);
    expect(mainEffects([NUMBER], [[1], [2], [3]], [5, 5, 5])).toMatchObject({ rest: null, factors: [{ share: null }] });
    expect(mainEffects([TWO], [[0], [1]], [5, 6]).factors[0]).toMatchObject({
      share: null,
      levels: [{ deviation: null }, { deviation: null }],
    });
  });
});
