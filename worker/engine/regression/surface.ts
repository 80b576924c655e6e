import { deviates, type Share, shareOf } from '../probability/index.ts';
import { type Axis, axesOf, type Factor, isKnownTo, placeOf } from './axes.ts';
import { type CrossValidation, crossValidated } from './cross-validation.ts';
import { gaussianProcess, type Hyperparameters, type Samples } from './gaussian.ts';
import { likeliest, nearest } from './likeliest.ts';
import type { Predictor } from './predictor.ts';
import { quadratic } from './quadratic.ts';
import { reach } from './reach.ts';

/** What was varied and what came of it: one row of factors and one value for each point. */
export interface SurfaceData {
  readonly factors: readonly Factor[];
  readonly rows: readonly (readonly number[])[];
  readonly values: ArrayLike<number>;
}

export type SurfaceModel =
  | { readonly kind: 'quadratic' }
  | { readonly kind: 'gaussian-process'; readonly hyperparameters: Hyperparameters };

/** Errors are in the unit of the values. */
export interface SurfaceFit {
  readonly model: SurfaceModel;
  /** Points it was fitted to; the others were kept from it. */
  readonly fitted: number;
  readonly candidates: readonly { readonly kind: SurfaceModel['kind']; readonly rmse: number }[];
  readonly rmse: number;
  /** Of the values' variance, 1 - mean square error / variance: 1 is all, below 0 is worse than their mean. */
  readonly explained: number;
  readonly intervalFactor: number;
  readonly covered: Share;
  /** The same of the points that were kept from it; null: there are none. */
  readonly kept: { readonly rmse: number; readonly covered: Share } | null;
}

export interface SurfacePrediction {
  readonly mean: number;
  /** The interval that covers a new evaluation 95 times of 100, of such as the surface was fitted to. */
  readonly low: number;
  readonly high: number;
  readonly extrapolates: boolean;
}

export const FEWEST_POINTS = 20;
/** The factor of a Gaussian process takes the cube of the points. */
export const MOST_FITTED = 300;
/** Steps of a fold's own ascent, which starts where the whole one ended. */
const FOLD_STEPS = 8;
const SEED = 1;

/** Fits both models, a Gaussian process and a quadratic polynomial, and takes the one with the smaller cross-validated error. At least FEWEST_POINTS points. */
export function fitSurface(data: SurfaceData, { poll = () => {} }: { poll?: () => void } = {}): SurfaceFit {
  const ground = groundOf(data);
  const { samples, scale } = ground;
  const hyperparameters = likeliest(samples, { seed: SEED, poll });
  const refitted = (fold: Samples): Predictor | null => {
    const own = hyperparameters && nearest(fold, hyperparameters, { poll, mostSteps: FOLD_STEPS });
    return own && gaussianProcess(fold, own.hyperparameters);
  };
  const tried: { model: SurfaceModel; found: CrossValidation }[] = [];
  const offer = (model: SurfaceModel, found: CrossValidation | null) => found && tried.push({ model, found });
  offer({ kind: 'quadratic' }, crossValidated(samples, quadratic));
  if (hyperparameters) offer({ kind: 'gaussian-process', hyperparameters }, crossValidated(samples, refitted));
  const best = tried.reduce((a, b) => (b.found.rmse < a.found.rmse ? b : a));
  const { rmse, intervalFactor, covered } = best.found;
  return {
    model: best.model,
    fitted: samples.z.length,
    candidates: tried.map(({ model, found }) => ({ kind: model.kind, rmse: found.rmse * scale })),
    ...{ rmse: rmse * scale, explained: 1 - (rmse * rmse) / ground.variance, intervalFactor, covered },
    kept: keptFrom(data, ground, { model: best.model, intervalFactor }),
  };
}

/** Answers for any row of factors, in the values' unit. */
export function surfacePredictor(
  data: SurfaceData,
  { model, intervalFactor }: Pick<SurfaceFit, 'model' | 'intervalFactor'>,
): (row: readonly number[]) => SurfacePrediction {
  const ground = groundOf(data);
  const { axes, samples, scale, middle } = ground;
  const predict = predictorOf(samples, model);
  const { most, of } = reach(samples.points);
  const isKnown = isKnownTo(data.factors, ground.rows);
  return (row) => {
    const place = placeOf(axes, row);
    const { mean, deviation } = predict(place);
    const [at, half] = [middle + scale * mean, scale * intervalFactor * deviation];
    const beyond = place.some((each) => each < -ROUNDING || each > 1 + ROUNDING) || of(place) > most * (1 + ROUNDING);
    return { mean: at, low: at - half, high: at + half, extrapolates: beyond || !isKnown(row) };
  };
}
const ROUNDING = 1e-9;

const predictorOf = (samples: Samples, model: SurfaceModel): Predictor =>
  (model.kind === 'quadratic' ? quadratic(samples) : gaussianProcess(samples, model.hyperparameters))!;

/** What models are fitted to: points drawn from all, their axes from 0 to 1, values about 0 with deviation 1. */
interface Ground {
  readonly axes: readonly Axis[];
  readonly samples: Samples;
  readonly middle: number;
  readonly scale: number;
  /** Of the scaled values. */
  readonly variance: number;
  readonly order: readonly number[];
  /** Those fitted to. */
  readonly rows: readonly (readonly number[])[];
}

function groundOf({ factors, rows, values }: SurfaceData): Ground {
  const order = shuffled(rows.length);
  const used = order.slice(0, MOST_FITTED);
  const known = used.map((i) => rows[i]);
  const axes = axesOf(factors, known);
  const y = Float64Array.from(used, (i) => values[i]);
  const middle = y.reduce((sum, each) => sum + each, 0) / y.length;
  const deviation = Math.sqrt(y.reduce((sum, each) => sum + (each - middle) ** 2, 0) / y.length);
  // values that are all alike are taken in their own size
  const scale = deviation > 1e-12 * Math.abs(middle) ? deviation : Math.abs(middle) || 1;
  return {
    ...{ axes, middle, scale, order, variance: (deviation / scale) ** 2 || 1 },
    rows: known,
    samples: { points: known.map((row) => placeOf(axes, row)), z: y.map((each) => (each - middle) / scale) },
  };
}

/** The same order for as many points, by the shuffle of Fisher and Yates: so the rest is drawn as the fitted ones are, and folds are alike. */
function shuffled(count: number): number[] {
  const { uniform } = deviates(SEED, 0);
  const order = Array.from({ length: count }, (_, i) => i);
  for (let i = count - 1; i > 0; i--) {
    const j = Math.floor(uniform() * (i + 1));
    [order[i], order[j]] = [order[j], order[i]];
  }
  return order;
}

function keptFrom(
  data: SurfaceData,
  { order, axes, samples, scale, middle }: Ground,
  fit: Pick<SurfaceFit, 'model' | 'intervalFactor'>,
): SurfaceFit['kept'] {
  const rest = order.slice(MOST_FITTED);
  if (rest.length === 0) return null;
  const predict = predictorOf(samples, fit.model);
  const errors = rest.map((i) => {
    const { mean, deviation } = predict(placeOf(axes, data.rows[i]));
    return { error: (data.values[i] - middle) / scale - mean, deviation };
  });
  const square = errors.reduce((sum, { error }) => sum + error * error, 0);
  const hits = errors.filter(({ error, deviation }) => Math.abs(error) <= fit.intervalFactor * deviation).length;
  return { rmse: scale * Math.sqrt(square / rest.length), covered: shareOf(hits, rest.length) };
}
