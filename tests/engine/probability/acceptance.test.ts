import { describe, expect, it } from 'vitest';
import {
  deviates,
  furtherParts,
  intervalFactor,
  judged,
  normalQuantile,
  normalShare,
  oneSidedFactor,
  studentQuantile,
  twoSidedFactor,
} from '../../../worker/engine/probability/index.ts';

const claim = { p: 0.95, confidence: 0.9 };
const band = { min: 290, max: 330 };

describe('a claim about parts', () => {
  it('is accepted where the tolerance interval just fits, and open where it just does not', () => {
    const k = twoSidedFactor({ n: 8, p: 0.95 }, 0.9);
    const fits = { n: 8, mean: 310, deviation: 20 / (k * 1.0001) };
    expect(judged(fits, band, claim)).toBe('accepted');
    expect(judged({ ...fits, deviation: 20 / (k * 0.9999) }, band, claim)).toBe('open');
    const one = oneSidedFactor({ n: 8, p: 0.95 }, 0.9);
    expect(judged({ n: 8, mean: 290 + 1.0001 * one, deviation: 1 }, { min: 290, max: null }, claim)).toBe('accepted');
    expect(judged({ n: 8, mean: 290 + 0.9999 * one, deviation: 1 }, { min: 290, max: null }, claim)).toBe('open');
  });

  it('is rejected where the mean lies well outside, or where parts scatter too much for any mean', () => {
    expect(judged({ n: 4, mean: 340, deviation: 2 }, band, claim)).toBe('rejected');
    expect(judged({ n: 4, mean: 280, deviation: 2 }, band, claim)).toBe('rejected');
    expect(judged({ n: 20, mean: 310, deviation: 25 }, band, claim)).toBe('rejected');
    expect(judged({ n: 4, mean: 340, deviation: 2 }, { min: 290, max: null }, claim)).toBe('accepted');
  });

  it('of equal parts is decided by where they lie', () => {
    expect(judged({ n: 3, mean: 310, deviation: 0 }, band, claim)).toBe('accepted');
    expect(judged({ n: 3, mean: 331, deviation: 0 }, band, claim)).toBe('rejected');
    expect(judged({ n: 3, mean: 330, deviation: 0 }, band, claim)).not.toBe('accepted');
  });

  it('is decided once the further parts that are told came out alike, and not one earlier', () => {
    for (const [mean, deviation] of [
      [310, 8],
      [320, 4.2],
      [318, 5.2],
    ]) {
      const sample = { n: 3, mean, deviation };
      const more = furtherParts(sample, band, claim)!;
      expect(more).toBeGreaterThan(0);
      expect(judged({ ...sample, n: 3 + more }, band, claim)).not.toBe('open');
      expect(judged({ ...sample, n: 2 + more }, band, claim)).toBe('open');
    }
    // Exactly the share in question: no number of parts decides.
    expect(furtherParts({ n: 3, mean: 310, deviation: 20 / normalQuantile(0.975) }, band, claim)).toBeNull();
  });
});

describe('a claim about the mean', () => {
  const ofMean = { p: null, confidence: 0.9 };
  it('is judged by the confidence interval of Student', () => {
    expect(intervalFactor(9, band, ofMean)).toBeCloseTo(studentQuantile(0.95, 8) / 3, 12);
    expect(intervalFactor(9, { min: null, max: 330 }, ofMean)).toBeCloseTo(studentQuantile(0.9, 8) / 3, 12);
    expect(judged({ n: 9, mean: 320, deviation: 9 }, band, ofMean)).toBe('accepted');
    expect(judged({ n: 9, mean: 328, deviation: 9 }, band, ofMean)).toBe('open');
    expect(judged({ n: 9, mean: 337, deviation: 9 }, band, ofMean)).toBe('rejected');
  });
});

describe('over hundreds of drawn samples', () => {
  const TRIALS = 500;
  /** Share of the samples of n parts that are judged so, of a population of this mean and deviation. */
  function shareOf(wanted: string, { n, mean, deviation, seed }: { n: number; mean: number; deviation: number; seed: number }): number {
    const draw = deviates(seed, 0);
    let found = 0;
    for (let k = 0; k < TRIALS; k++) {
      const values = Array.from({ length: n }, () => mean + deviation * draw.normal());
      const average = values.reduce((sum, x) => sum + x, 0) / n;
      const s = Math.sqrt(values.reduce((sum, x) => sum + (x - average) ** 2, 0) / (n - 1));
      if (judged({ n, mean: average, deviation: s }, band, claim) === wanted) found++;
    }
    return found / TRIALS;
  }
  // Three standard deviations of a share of 0.1 over 500 samples.
  const CHANCE = 0.041;
  const just = 20 / normalQuantile(0.975);

  it('a population that just fails is accepted in at most a tenth', () => {
    expect(normalShare(20 / just) - normalShare(-20 / just)).toBeCloseTo(0.95, 12);
    expect(shareOf('accepted', { n: 6, mean: 310, deviation: just, seed: 1 })).toBeLessThan(0.1 + CHANCE);
    // Near one limit: 5 % beyond it.
    expect(shareOf('accepted', { n: 6, mean: 330 - normalQuantile(0.95), deviation: 1, seed: 2 })).toBeLessThan(0.1 + CHANCE);
  });

  it('a population that just passes is rejected in at most a tenth', () => {
    expect(shareOf('rejected', { n: 6, mean: 310, deviation: just, seed: 3 })).toBeLessThan(0.1 + CHANCE);
    expect(shareOf('rejected', { n: 6, mean: 330 - normalQuantile(0.95), deviation: 1, seed: 4 })).toBeLessThan(0.1 + CHANCE);
  });

  it('good and bad populations are found out by thirty parts', () => {
    expect(shareOf('accepted', { n: 30, mean: 310, deviation: 5, seed: 5 })).toBeGreaterThan(0.99);
    expect(shareOf('rejected', { n: 30, mean: 310, deviation: 20, seed: 6 })).toBeGreaterThan(0.99);
  });
});
