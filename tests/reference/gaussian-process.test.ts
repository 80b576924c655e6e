import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  gaussianProcess,
  type Hyperparameters,
  likeliest,
  logMarginalLikelihood,
  type Samples,
} from '../../worker/engine/regression/index.ts';

interface Table {
  readonly version: string;
  readonly points: readonly (readonly number[])[];
  readonly z: readonly number[];
  readonly at: readonly (readonly number[])[];
  readonly cases: readonly (Hyperparameters & {
    readonly variance: number;
    readonly mean: readonly number[];
    readonly deviation: readonly number[];
    readonly likelihood: number;
    readonly slope: readonly number[];
  })[];
  readonly likeliest: readonly { readonly kernel: string; readonly likelihood: number }[];
}

/**
 * Thirty drawn points of Branin's function, scaled, and what scikit-learn 1.2.1 (GaussianProcessRegressor, constant * RBF or Matern(nu = 2.5) + white kernel,
 * alpha = 0) says of six others, two of them outside: with fixed hyperparameters, and the greatest marginal likelihood it found of 31 starts. Status: computed beside.
 */
const table: Table = JSON.parse(readFileSync(new URL('gaussian-process.json', import.meta.url), 'utf8'));
const samples: Samples = { points: table.points.map((each) => Float64Array.from(each)), z: Float64Array.from(table.z) };
const cases = table.cases.map((each) => [`${each.kernel}, lengths ${each.lengths}`, each] as const);

describe(`Gaussian process regression [scikit-learn ${table.version}]`, () => {
  it.each(cases)('%s: mean and deviation of new observations', (_, { variance, mean, deviation, ...of }) => {
    const predict = gaussianProcess(samples, of, variance)!;
    for (const [k, at] of table.at.entries()) {
      const found = predict(Float64Array.from(at));
      // both solve by Cholesky; the matrices' condition, up to 1e5, leaves eleven of the sixteen digits
      expect(Math.abs(found.mean - mean[k])).toBeLessThan(1e-10);
      expect(Math.abs(found.deviation - deviation[k])).toBeLessThan(1e-10);
    }
  });

  it.each(cases)('%s: marginal likelihood and its slopes', (_, { variance, likelihood, slope, ...of }) => {
    const found = logMarginalLikelihood(samples, of, variance)!;
    expect(Math.abs(found.value - likelihood)).toBeLessThan(1e-9);
    for (const [k, each] of slope.entries()) expect(Math.abs(found.slope[k] - each)).toBeLessThan(1e-7);
  });

  it('finds a marginal likelihood as great as the greatest found there', () => {
    const best = Math.max(...table.likeliest.map(({ likelihood }) => likelihood));
    const found = likeliest(samples, { seed: 1, poll: () => {} })!;
    // an ascent ends where a step gains less than 0.001
    expect(logMarginalLikelihood(samples, found)!.value).toBeGreaterThan(best - 0.01);
  });
});
