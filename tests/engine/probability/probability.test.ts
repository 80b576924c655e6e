import { describe, expect, it } from 'vitest';
import { deviates, distribution, normalShare, shareOf, xoshiro128 } from '../../../worker/engine/probability/index.ts';

describe('xoshiro128**', () => {
  it("gives the first ten words of its authors' program from the state 1 2 3 4 [read in copies of the test vector]", () => {
    const next = xoshiro128([1, 2, 3, 4]);
    const words = Array.from({ length: 10 }, next);
    expect(words).toEqual([11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804]);
  });

  it('gives every seed and every stream numbers of its own, the same every time', () => {
    const first = (seed: number, index: number) => deviates(seed, index).uniform();
    const found = new Set<number>();
    for (let seed = 0; seed < 40; seed++) for (let index = 0; index < 40; index++) found.add(first(seed, index));
    // 1600 words of 2^32: a pair of equal ones has a chance of 3e-4, and these are fixed.
    expect(found.size).toBe(1600);
    expect(first(7, 3)).toBe(first(7, 3));
  });
});

/** Pearson's chi-squared over cells of equal probability. */
function chiSquared(shares: Iterable<number>, cells: number): number {
  const counts = new Array<number>(cells).fill(0);
  let n = 0;
  for (const share of shares) {
    counts[Math.min(cells - 1, Math.floor(cells * share))]++;
    n++;
  }
  return counts.reduce((sum, count) => sum + (count - n / cells) ** 2 / (n / cells), 0);
}

function* draws(count: number, of: (k: number) => number) {
  for (let k = 0; k < count; k++) yield of(k);
}

// 99 degrees of freedom: mean 99, deviation sqrt(198) = 14.1. Between 57 and 157 lie all but 2e-4 on either side; the seeds are fixed.
const FITS = { from: 57, to: 157 };

describe('deviates', () => {
  const N = 200_000;

  it.each([1, 2, 3])('seed %i: uniform and normal ones fill 100 equal cells evenly', (seed) => {
    const source = deviates(seed, 0);
    const flat = chiSquared(draws(N, source.uniform), 100);
    const normal = chiSquared(
      draws(N, () => normalShare(source.normal())),
      100,
    );
    for (const found of [flat, normal]) {
      expect(found).toBeGreaterThan(FITS.from);
      expect(found).toBeLessThan(FITS.to);
    }
  });

  it('first ones of many streams are as even as many of one stream', () => {
    const found = chiSquared(
      draws(N, (k) => normalShare(deviates(11, k).normal())),
      100,
    );
    expect(found).toBeGreaterThan(FITS.from);
    expect(found).toBeLessThan(FITS.to);
  });

  it('normal ones have the moments 0, 1, 0, 3, and neighbours know nothing of each other', () => {
    const source = deviates(5, 9);
    const sums = [0, 0, 0, 0, 0];
    let before = 0;
    for (let k = 0; k < N; k++) {
      const x = source.normal();
      for (let p = 0; p < 4; p++) sums[p] += x ** (p + 1) / N;
      sums[4] += (x * before) / N;
      before = x;
    }
    // Variances of the sample moments: 1, 2, 15, 96 and 1 over N; four deviations.
    const expected = [0, 1, 0, 3, 0];
    for (const [k, variance] of [1, 2, 15, 96, 1].entries())
      expect(Math.abs(sums[k] - expected[k])).toBeLessThan(4 * Math.sqrt(variance / N));
  });

  it('directions are unit vectors, even over the sphere', () => {
    const source = deviates(2, 4);
    const found = Array.from({ length: 20_000 }, source.direction);
    for (const axis of [0, 1, 2]) {
      // Each coordinate of an even direction is itself even between -1 and 1 (Archimedes).
      const value = chiSquared(
        found.map((d) => (d[axis] + 1) / 2),
        100,
      );
      expect(value).toBeGreaterThan(FITS.from);
      expect(value).toBeLessThan(FITS.to);
    }
    for (const d of found) expect(Math.hypot(...d)).toBeCloseTo(1, 14);
  });
});

describe('normal distribution', () => {
  it('agrees with printed values and their complements (Abramowitz and Stegun, table 26.1)', () => {
    // Printed to 15 decimals; from memory.
    const printed: readonly (readonly [number, number])[] = [
      [0, 0.5],
      [1, 0.841344746068543],
      [2, 0.977249868051821],
      [3, 0.99865010196837],
      [4, 0.999968328758167],
    ];
    for (const [x, share] of printed) {
      expect(normalShare(x)).toBeCloseTo(share, 14);
      expect(normalShare(-x)).toBeCloseTo(1 - share, 14);
    }
  });

  it('has one value where its two formulas meet, and the density as its slope', () => {
    for (const x of [-3, 3, -1, 0.5, 4, -6]) {
      const step = 1e-4;
      const slope = (normalShare(x + step) - normalShare(x - step)) / (2 * step);
      const density = Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
      // Central differences err by step^2/6 (x^2 - 1) of the density and by rounding 1e-16 / step.
      expect(Math.abs(slope - density)).toBeLessThan(1e-7 * density + 3e-12);
    }
    expect([normalShare(-Infinity), normalShare(Infinity)]).toEqual([0, 1]);
    expect(normalShare(-20) / 2.7536241186062337e-89).toBeCloseTo(1, 10);
  });
});

describe('a distribution', () => {
  it('of 1 to 5 has their mean, deviation and quartiles', () => {
    const found = distribution([5, 3, 1, 4, 2]);
    expect(found).toMatchObject({ count: 5, mean: 3, deviation: Math.sqrt(2.5), histogram: { from: 1, to: 5, counts: [2, 1, 2] } });
    expect(found.quantiles.map(({ share, value }) => [share, value])).toEqual([
      [0.025, expect.closeTo(1.1, 12)],
      [0.25, 2],
      [0.5, 3],
      [0.75, 4],
      [0.975, expect.closeTo(4.9, 12)],
    ]);
  });

  it('tells its own sampling errors: as many sets of samples scatter', () => {
    const sets = Array.from({ length: 400 }, (_, k) => {
      const source = deviates(3, k);
      return distribution(Float64Array.from({ length: 500 }, () => 10 + 2 * source.normal()));
    });
    const scatter = (of: (each: (typeof sets)[0]) => number) => distribution(sets.map(of)).deviation;
    const told = (of: (each: (typeof sets)[0]) => number) => sets.reduce((sum, each) => sum + of(each), 0) / sets.length;
    // A deviation of 400 values is itself good to 1 / sqrt(800) = 3.5 %; four of those, and quantile errors are read off few order statistics.
    expect(Math.abs(told((e) => e.meanError) / scatter((e) => e.mean) - 1)).toBeLessThan(0.14);
    expect(Math.abs(told((e) => e.deviationError) / scatter((e) => e.deviation) - 1)).toBeLessThan(0.14);
    for (const q of [0, 1, 2, 3, 4])
      expect(Math.abs(told((e) => e.quantiles[q].error) / scatter((e) => e.quantiles[q].value) - 1)).toBeLessThan(0.25);
  });

  it('of equal values has no width', () => {
    expect(distribution([4, 4, 4])).toMatchObject({ mean: 4, deviation: 0, deviationError: 0, histogram: { counts: [3] } });
  });
});

describe('a share', () => {
  it('has the score interval [worked by hand from its formula]', () => {
    // 10 of 20: p = 1/2, so the interval is 1/2 +- z / (2 sqrt(n + z^2)).
    const half = 1.959963984540054 / (2 * Math.sqrt(20 + 1.959963984540054 ** 2));
    const found = shareOf(10, 20);
    expect(found.from).toBeCloseTo(0.5 - half, 12);
    expect(found.to).toBeCloseTo(0.5 + half, 12);
    // None of n: 0 to z^2 / (n + z^2).
    expect(shareOf(0, 20)).toMatchObject({ share: 0, from: 0, to: expect.closeTo(3.8414588206941 / 23.8414588206941, 12) });
    expect(shareOf(20, 20)).toMatchObject({ share: 1, to: 1, from: expect.closeTo(20 / 23.8414588206941, 12) });
    expect(shareOf(0, 0)).toMatchObject({ from: 0, to: 1 });
  });

  it('holds the true share about 95 times in 100', () => {
    let held = 0;
    for (let k = 0; k < 2000; k++) {
      const source = deviates(8, k);
      let hits = 0;
      for (let i = 0; i < 60; i++) if (source.uniform() < 0.8) hits++;
      const { from, to } = shareOf(hits, 60);
      if (from <= 0.8 && 0.8 <= to) held++;
    }
    // The interval covers 93 to 97 % at this size as hits are whole; 2000 trials add 0.5 % (one deviation).
    expect(held / 2000).toBeGreaterThan(0.92);
    expect(held / 2000).toBeLessThan(0.98);
  });
});
