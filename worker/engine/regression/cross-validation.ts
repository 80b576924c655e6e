import { type Share, shareOf } from '../probability/index.ts';
import type { Samples } from './gaussian.ts';
import type { Predictor } from './predictor.ts';

const FOLDS = 10;
/** What intervals are to cover. */
const COVERED = 0.95;

/** Fits without a fold, and what each then said of what it had not seen. */
export interface CrossValidation {
  /** Root mean square error, in the unit of the values. */
  readonly rmse: number;
  /** Deviations to either side that cover the share, by the errors over their stated deviations. */
  readonly intervalFactor: number;
  /** How many errors lay within intervals that the other folds made. */
  readonly covered: Share;
}

/** Every FOLDSth point is a fold; points are in no order. `inUnit`: the value that a number of the samples stands for. null: one of the fits has no outcome. */
export function crossValidated(
  { points, z }: Samples,
  learn: (samples: Samples) => Predictor | null,
  inUnit: (z: number) => number,
): CrossValidation | null {
  const errors: Float64Array[] = [];
  let square = 0;
  for (let fold = 0; fold < FOLDS; fold++) {
    const rest = (_: unknown, i: number) => i % FOLDS !== fold;
    const predict = learn({ points: points.filter(rest), z: z.filter(rest) });
    if (!predict) return null;
    const of = Array.from(z.keys()).filter((i) => i % FOLDS === fold);
    const found = of.map((i) => ({ ...predict(points[i]), truth: z[i] }));
    for (const { mean, truth } of found) square += (inUnit(mean) - inUnit(truth)) ** 2;
    errors.push(Float64Array.from(found, ({ mean, deviation, truth }) => Math.abs(mean - truth) / deviation));
  }
  const hits = errors.map((each, fold) => {
    const factor = covering(errors.flatMap((other, k) => (k === fold ? [] : [...other])));
    return each.filter((error) => error <= factor).length;
  });
  return {
    rmse: Math.sqrt(square / z.length),
    intervalFactor: covering(errors.flatMap((each) => [...each])),
    covered: shareOf(
      hits.reduce((sum, each) => sum + each, 0),
      z.length,
    ),
  };
}

/**
 * The bound that a further error of the same kind keeps with the probability COVERED, whatever the errors' distribution: the ceil(COVERED (n + 1))-th
 * smallest of n (Vovk, Gammerman and Shafer 2005; over folds: Vovk 2015).
 */
function covering(errors: readonly number[]): number {
  const sorted = Float64Array.from(errors).sort();
  return sorted[Math.min(sorted.length, Math.ceil(COVERED * (sorted.length + 1))) - 1];
}
