import { describe, expect, it } from 'vitest';
import { distribution } from '../../worker/engine/probability/index.ts';

/** NIST Statistical Reference Datasets, univariate, "NumAcc": data that cancel. Certified mean and deviation; status: from memory. */
const alternating = (middle: number, count: number): number[] => [
  middle,
  ...Array.from({ length: count - 1 }, (_, k) => middle + (k % 2 === 0 ? -0.1 : 0.1)),
];
const SETS = [
  { name: 'NumAcc1', data: [10_000_001, 10_000_003, 10_000_002], mean: 10_000_002, deviation: 1 },
  { name: 'NumAcc2', data: alternating(1.2, 1001), mean: 1.2, deviation: 0.1 },
  { name: 'NumAcc3', data: alternating(1_000_000.2, 1001), mean: 1_000_000.2, deviation: 0.1 },
  { name: 'NumAcc4', data: alternating(10_000_000.2, 1001), mean: 10_000_000.2, deviation: 0.1 },
];

describe('mean and deviation of data that cancel [NIST StRD, from memory]', () => {
  it.each(SETS)('$name', ({ data, mean, deviation }) => {
    const found = distribution(data);
    expect(Math.abs(found.mean / mean - 1)).toBeLessThan(1e-14);
    // The data themselves are rounded: 1e7 to 2e-9, against a deviation of 0.1.
    expect(Math.abs(found.deviation / deviation - 1)).toBeLessThan(3e-8);
  });
});
