import { describe, expect, it } from 'vitest';
import { deviates } from '../../../worker/engine/probability/index.ts';
import { mainEffect } from '../../../worker/engine/regression/index.ts';
import { sobolPoint } from '../../../worker/engine/sampling/index.ts';

const NUMBER = { choices: null };

describe('main effects', () => {
  it('have the mean and the spread of each level', () => {
    const { levels } = mainEffect({ choices: ['a', 'b'] }, [0, 1, 0, 1, 0], [1, 10, 2, 14, 3]);
    expect(levels).toEqual([
      { from: 0, to: 0, count: 3, mean: 2, deviation: 1 },
      { from: 1, to: 1, count: 2, mean: 12, deviation: Math.sqrt(8) },
    ]);
  });

  /**
   * sin x1 + 7 sin^2 x2 + 0.1 x3^4 sin x1 over -pi to pi (Ishigami and Homma 1990): the first explains (1 + 0.1 pi^4 / 5)^2 / 2 of the variance
   * 7^2 / 8 + 0.1 pi^4 / 5 + 0.01 pi^8 / 18 + 1 / 2, the second 7^2 / 8, the third nothing by itself: 0.3139, 0.4424, 0.
   */
  it('explain what is known of the function of Ishigami and Homma', () => {
    const x = Array.from({ length: 4096 }, (_, k) => Array.from(sobolPoint(k, 3), (share) => Math.PI * (2 * share - 1)));
    const values = x.map(([a, b, c]) => Math.sin(a) + 7 * Math.sin(b) ** 2 + 0.1 * c ** 4 * Math.sin(a));
    const shares = [0, 1, 2].map(
      (j) =>
        mainEffect(
          NUMBER,
          x.map((row) => row[j]),
          values,
        ).share!,
    );
    // an interval of 2 pi / 20 hides the mean square of the slope over 12: 0.0146 of the second's 0.4424, less of the first's
    expect(Math.abs(shares[0] - 0.3139)).toBeLessThan(0.01);
    expect(Math.abs(shares[1] - 0.4424)).toBeLessThan(0.02);
    expect(shares[2]).toBeLessThan(0.005);
  });

  it('explain nothing by chance', () => {
    const { normal, uniform } = deviates(1, 1);
    const found = Array.from({ length: 40 }, () => {
      const settings = Array.from({ length: 200 }, uniform);
      return mainEffect(NUMBER, settings, settings.map(normal)).share!;
    });
    // twenty levels of pure chance explain 10 % before what chance explains is taken off; after, below 0 as often as above
    expect(found.filter((each) => each === 0).length).toBeGreaterThan(10);
    expect(found.reduce((sum, each) => sum + each, 0) / 40).toBeLessThan(0.03);
  });

  it('keep equal numbers together, and say so where nothing can be told', () => {
    const settings = Array.from({ length: 400 }, (_, k) => k % 37);
    const { levels } = mainEffect(NUMBER, settings, settings);
    expect(levels.reduce((sum, { count }) => sum + count, 0)).toBe(400);
    for (const [k, { from }] of levels.entries()) if (k > 0) expect(from).toBeGreaterThan(levels[k - 1].to);
    expect(mainEffect(NUMBER, [1, 2, 3], [5, 5, 5]).share).toBeNull();
    expect(mainEffect({ choices: ['a', 'b'] }, [0, 1], [5, 6])).toMatchObject({
      share: null,
      levels: [{ deviation: null }, { deviation: null }],
    });
  });
});
