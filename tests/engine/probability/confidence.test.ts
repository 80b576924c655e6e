import { describe, expect, it, test } from 'vitest';
import {
  chiSquaredQuantile,
  chiSquaredTail,
  criticalDeviation,
  deviates,
  exactBounds,
  logGamma,
  normalQuantile,
  normalShare,
  oneSidedConfidence,
  oneSidedFactor,
  outliersOf,
  studentQuantile,
  trialsFor,
  twoSidedConfidence,
  twoSidedFactor,
} from '../../../worker/engine/probability/index.ts';

/** Values computed once with SciPy 1.17.1 (gammaln, t.ppf, chi2.ppf, nct.ppf, quad over the mean). Both sides are good to about 1e-11. */
const SAME = 1e-10;
const close = (value: number, wanted: number) => expect(Math.abs(value / wanted - 1)).toBeLessThan(SAME);

describe('quantiles and functions are those of SciPy', () => {
  test.each([
    [0.5, 0.5723649429247],
    [3.7, 1.428072326665388],
    [14.99, 25.164481163825506],
    [100.5, 361.43554046777757],
  ])('log gamma of %d', (x, wanted) => close(logGamma(x), wanted));
  test.each([
    [0.975, 1, 12.706204736174694],
    [0.975, 5, 2.5705818356363146],
    [0.95, 10, 1.8124611228116756],
    [0.995, 30, 2.7499956535672254],
    [0.001, 2, -22.327124770119866],
  ])('t of %d, %d degrees of freedom', (share, nu, wanted) => close(studentQuantile(share, nu), wanted));
  test.each([
    [0.05, 1, 0.003932140000019522],
    [0.95, 10, 18.307038053275146],
    [0.01, 30, 14.953456528455435],
    [0.99, 100, 135.80672317102676],
  ])('chi-squared of %d, %d degrees of freedom', (share, nu, wanted) => {
    close(chiSquaredQuantile(share, nu), wanted);
    close(1 - chiSquaredTail(wanted, nu), share);
  });
  test.each([
    [2, 0.95, 0.95, 26.25967398303447],
    [3, 0.9, 0.9, 4.258164936706422],
    [43, 0.9, 0.99, 1.8739536058511987],
    [20, 0.99, 0.95, 3.2951569361708746],
    [10, 0.95, 0.05, 1.01729883839294],
  ])('one-sided factor of %d parts, %d, %d', (n, p, confidence, wanted) => close(oneSidedFactor({ n, p }, confidence), wanted));
  test.each([
    [2, 0.95, 0.95, 36.51921461206097],
    [5, 0.95, 0.95, 5.076874532059514],
    [43, 0.9, 0.99, 2.222825173806153],
    [30, 0.99, 0.9, 3.1733086093679215],
  ])('two-sided factor of %d parts, %d, %d', (n, p, confidence, wanted) => close(twoSidedFactor({ n, p }, confidence), wanted));
  test.each([
    [8, 10, 0.95, 0.49309869893679764, 0.9632285621125349],
    [1, 20, 0.9, 0.005254174069468943, 0.1809609634367385],
  ])('exact bounds of %d of %d at %d', (hits, count, confidence, lower, upper) => {
    const bounds = exactBounds(hits, count, confidence);
    close(bounds.lower, lower);
    close(bounds.upper, upper);
  });
});

/** Rows of printed tables, to the digits printed; from memory unless said otherwise, as every such table holds them. */
describe('published tables', () => {
  // Student's t and chi-squared, NIST/SEMATECH e-Handbook 1.3.6.7.2 and 1.3.6.7.4.
  test.each([
    [0.95, 1, 6.314],
    [0.975, 10, 2.228],
    [0.99, 20, 2.528],
    [0.999, 100, 3.174],
  ])('t %d with %d', (share, nu, wanted) => expect(Number(studentQuantile(share, nu).toFixed(3))).toBe(wanted));
  test.each([
    [0.9, 1, 2.706],
    [0.95, 5, 11.07],
    [0.99, 20, 37.566],
    [0.05, 10, 3.94],
  ])('chi-squared %d with %d', (share, nu, wanted) => expect(Number(chiSquaredQuantile(share, nu).toFixed(3))).toBe(wanted));
  // ISO 16269-6 and Odeh and Owen (1980), 95 % of parts with 95 % confidence.
  test.each([
    [5, 4.203, 5.077],
    [10, 2.911, 3.393],
    [20, 2.396, 2.76],
  ])('factors of %d parts', (n, one, two) => {
    expect(Number(oneSidedFactor({ n, p: 0.95 }, 0.95).toFixed(3))).toBe(one);
    expect(Number(twoSidedFactor({ n, p: 0.95 }, 0.95).toFixed(3))).toBe(two);
  });
  // NIST/SEMATECH e-Handbook 7.2.6.3: 43 parts, 90 % of them, 99 % confidence: k1 = 1.8740 exactly (noncentral t).
  it('the worked example of one-sided factors', () => expect(Number(oneSidedFactor({ n: 43, p: 0.9 }, 0.99).toFixed(4))).toBe(1.874));
  // e-Handbook 1.3.5.17.1 (G = 2.4687, one-sided 5 % 2.032) and 1.3.5.17.3 (54 values, critical 3.158, 3.151, 3.143).
  it('the worked examples of outliers', () => {
    const values = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];
    const [flag, ...others] = outliersOf(values);
    expect([flag.index, others]).toEqual([7, []]);
    // Printed 2.4687, which is 2.46876 without its last digits.
    expect(Math.abs(flag.statistic - 2.4687)).toBeLessThan(1e-4);
    // One-sided at 5 % is two-sided at 10 %.
    expect(Number(criticalDeviation(8, 0.1).toFixed(3))).toBe(2.032);
    // Of each round of a larger sample: with one, two left out. The handbook rounds from its own table of t, so half a unit of its last digit.
    for (const [n, wanted] of [
      [54, 3.158],
      [53, 3.151],
      [52, 3.143],
    ])
      expect(Math.abs(criticalDeviation(n, 0.05) - wanted)).toBeLessThan(0.001);
  });
  // Success run: parts without a failure that show 95 % with 95 %, 90 % with 90 %, 90 % with 95 %; with one failure 90 % with 90 %.
  it('the success run', () => {
    const runs = [
      [0.95, 0, 0.95],
      [0.9, 0, 0.9],
      [0.9, 0, 0.95],
      [0.9, 1, 0.9],
    ].map(([share, misses, confidence]) => trialsFor(share, { misses, confidence, most: 1000 }));
    expect(runs).toEqual([59, 22, 29, 38]);
    expect(trialsFor(0.999, { misses: 0, confidence: 0.95, most: 1000 })).toBeNull();
  });
});

describe('laws', () => {
  it('confidence grows with k and is what the factor was asked for', () => {
    const coverage = { n: 7, p: 0.9 };
    expect(oneSidedConfidence(oneSidedFactor(coverage, 0.8), coverage)).toBeCloseTo(0.8, 12);
    expect(twoSidedConfidence(twoSidedFactor(coverage, 0.8), coverage)).toBeCloseTo(0.8, 12);
    expect(twoSidedConfidence(0, coverage)).toBe(0);
    for (let k = 0.2; k < 6; k += 0.2) {
      expect(oneSidedConfidence(k + 0.2, coverage)).toBeGreaterThan(oneSidedConfidence(k, coverage));
      expect(twoSidedConfidence(k, coverage)).toBeLessThan(oneSidedConfidence(k, coverage));
    }
  });

  it('factors of many parts come down to the quantile of the distribution itself', () => {
    // The deviation of 1e5 parts is known to 0.2 %, so is the factor.
    expect(Math.abs(oneSidedFactor({ n: 1e5, p: 0.95 }, 0.95) / normalQuantile(0.95) - 1)).toBeLessThan(0.01);
    expect(normalShare(normalQuantile(0.123))).toBeCloseTo(0.123, 13);
  });

  it('intervals of drawn samples hold the share as often as they say', () => {
    const draw = deviates(7, 0);
    const [n, p, confidence, trials] = [6, 0.9, 0.9, 4000];
    const [one, two] = [oneSidedFactor({ n, p }, confidence), twoSidedFactor({ n, p }, confidence)];
    let [held, heldTwo] = [0, 0];
    for (let k = 0; k < trials; k++) {
      const values = Array.from({ length: n }, draw.normal);
      const mean = values.reduce((sum, x) => sum + x, 0) / n;
      const s = Math.sqrt(values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (n - 1));
      if (normalShare(mean + one * s) >= p) held++;
      if (normalShare(mean + two * s) - normalShare(mean - two * s) >= p) heldTwo++;
    }
    // Three standard deviations of a share of 0.9 over 4 000 draws: 0.0142.
    expect(Math.abs(held / trials - confidence)).toBeLessThan(0.0142);
    expect(Math.abs(heldTwo / trials - confidence)).toBeLessThan(0.0142);
  });

  it('flags what is far off, not what rounding makes equal, and nothing of equal values', () => {
    expect(outliersOf([310, 311, 3100]).map(({ index }) => index)).toEqual([2]);
    expect(outliersOf([310, 310, 311])).toEqual([]);
    expect(outliersOf([310.2, 310.2, 345]).map(({ index }) => index)).toEqual([2]);
    expect(outliersOf([5, 5, 5, 5])).toEqual([]);
    expect(outliersOf([1, 99])).toEqual([]);
  });

  it('sees two outliers at once among twenty, which hide each other from a test of one', () => {
    const draw = deviates(3, 1);
    const values = Array.from({ length: 20 }, () => 100 + draw.normal());
    values[4] = 112;
    values[11] = 112.5;
    expect(outliersOf(values).map(({ index }) => index)).toEqual([4, 11]);
  });

  it('bounds of no and of all hits', () => {
    expect(exactBounds(0, 10, 0.9).lower).toBe(0);
    expect(exactBounds(10, 10, 0.9)).toMatchObject({ upper: 1 });
    // All of n: the share s with s^n = 1 - confidence.
    expect(exactBounds(10, 10, 0.9).lower).toBeCloseTo(0.1 ** 0.1, 12);
    expect(exactBounds(0, 0, 0.9)).toEqual({ lower: 0, upper: 1 });
  });
});
