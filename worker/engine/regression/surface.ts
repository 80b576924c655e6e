import { type Share, shareOf } from '../probability/index.ts';
import { isKnownTo, placeOf } from './axes.ts';
import { type CrossValidation, crossValidated } from './cross-validation.ts';
import { gaussianProcess, type Hyperparameters, type Samples } from './gaussian.ts';
import { type Form, formsOf, type Ground, groundOf, type SurfaceData } from './ground.ts';
import { likeliest, nearest } from './likeliest.ts';
import type { Predictor } from './predictor.ts';
import { quadratic } from './quadratic.ts';
import { reach } from './reach.ts';

export type SurfaceModel =
  | { readonly kind: 'quadratic'; readonly form: Form }
  | { readonly kind: 'gaussian-process'; readonly form: Form; readonly hyperparameters: Hyperparameters };

/** Errors are in the unit of the values. */
export interface SurfaceFit {
  readonly model: SurfaceModel;
  /** Points it was fitted to; the others were kept from it. */
  readonly fitted: number;
  readonly candidates: readonly { readonly kind: SurfaceModel['kind']; readonly form: Form; readonly rmse: number }[];
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
/** Steps of a fold's own ascent, which starts where the whole one ended. */
const FOLD_STEPS = 8;
const SEED = 1;

interface Tried {
  readonly model: SurfaceModel;
  readonly found: CrossValidation;
}

/**
 * Fits a Gaussian process and a quadratic polynomial, to the values and where they differ much to their logarithms, and takes the model with the least
 * cross-validated error. At least FEWEST_POINTS points.
 */
export function fitSurface(data: SurfaceData, { poll = () => {} }: { poll?: () => void } = {}): SurfaceFit {
  const tried = formsOf(data.values).flatMap((form) => triedOn(groundOf(data, form), form, poll));
  const best = tried.reduce((a, b) => (b.found.rmse < a.found.rmse ? b : a));
  const { model, found } = best;
  const ground = groundOf(data, model.form);
  return {
    model,
    fitted: ground.samples.z.length,
    candidates: tried.map(({ model: { kind, form }, found: { rmse } }) => ({ kind, form, rmse })),
    ...found,
    explained: 1 - found.rmse ** 2 / (variance(ground) || 1),
    kept: keptFrom(data, ground, { model, intervalFactor: found.intervalFactor }),
  };
}

function triedOn({ samples, inUnit }: Ground, form: Form, poll: () => void): Tried[] {
  const hyperparameters = likeliest(samples, { seed: SEED, poll });
  const refitted = (fold: Samples): Predictor | null => {
    const own = hyperparameters && nearest(fold, hyperparameters, { poll, mostSteps: FOLD_STEPS });
    return own && gaussianProcess(fold, own.hyperparameters);
  };
  const polynomial = crossValidated(samples, quadratic, inUnit);
  const process = crossValidated(samples, refitted, inUnit);
  return [
    ...(polynomial ? [{ model: { kind: 'quadratic' as const, form }, found: polynomial }] : []),
    ...(process && hyperparameters ? [{ model: { kind: 'gaussian-process' as const, form, hyperparameters }, found: process }] : []),
  ];
}

/** Of the values fitted to. */
function variance({ samples, inUnit }: Ground): number {
  const values = samples.z.map(inUnit);
  const mean = values.reduce((sum, each) => sum + each, 0) / values.length;
  return values.reduce((sum, each) => sum + (each - mean) ** 2, 0) / values.length;
}

const ROUNDING = 1e-9;

/** Answers for any row of factors, in the values' unit. */
export function surfacePredictor(
  data: SurfaceData,
  fit: Pick<SurfaceFit, 'model' | 'intervalFactor'>,
): (row: readonly number[]) => SurfacePrediction {
  const ground = groundOf(data, fit.model.form);
  const predict = predictorOn(ground, fit);
  const { most, of } = reach(ground.samples.points);
  const isKnown = isKnownTo(data.factors, ground.rows);
  return (row) => {
    const place = placeOf(ground.axes, row);
    const beyond = place.some((each) => each < -ROUNDING || each > 1 + ROUNDING) || of(place) > most * (1 + ROUNDING);
    return { ...predict(row), extrapolates: beyond || !isKnown(row) };
  };
}

function predictorOn({ axes, samples, inUnit }: Ground, { model, intervalFactor }: Pick<SurfaceFit, 'model' | 'intervalFactor'>) {
  const predict = (model.kind === 'quadratic' ? quadratic(samples) : gaussianProcess(samples, model.hyperparameters))!;
  return (row: readonly number[]): Pick<SurfacePrediction, 'mean' | 'low' | 'high'> => {
    const { mean, deviation } = predict(placeOf(axes, row));
    const half = intervalFactor * deviation;
    return { mean: inUnit(mean), low: inUnit(mean - half), high: inUnit(mean + half) };
  };
}

function keptFrom({ rows, values }: SurfaceData, ground: Ground, fit: Pick<SurfaceFit, 'model' | 'intervalFactor'>): SurfaceFit['kept'] {
  const { kept } = ground;
  if (kept.length === 0) return null;
  const predict = predictorOn(ground, fit);
  const asked = kept.map((i) => ({ ...predict(rows[i]), value: values[i] }));
  const square = asked.reduce((sum, { mean, value }) => sum + (mean - value) ** 2, 0);
  const hits = asked.filter(({ low, high, value }) => low <= value && value <= high).length;
  return { rmse: Math.sqrt(square / kept.length), covered: shareOf(hits, kept.length) };
}
