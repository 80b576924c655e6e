import { deviates } from '../probability/index.ts';
import { type Axis, axesOf, type Factor, placeOf } from './axes.ts';
import type { Samples } from './gaussian.ts';

/** What was varied and what came of it: one row of factors and one value for each point. */
export interface SurfaceData {
  readonly factors: readonly Factor[];
  readonly rows: readonly (readonly number[])[];
  readonly values: ArrayLike<number>;
}

/** What a model is a model of. Quantities that go with powers of lengths are straighter in logarithms. */
export type Form = 'value' | 'logarithm';

/** What models are fitted to: points drawn from all, their axes from 0 to 1, values or their logarithms about 0 with deviation 1. */
export interface Ground {
  readonly axes: readonly Axis[];
  readonly samples: Samples;
  /** Rows fitted to, and places of those that were not drawn. */
  readonly rows: readonly (readonly number[])[];
  readonly kept: readonly number[];
  /** The value that a number of the samples stands for. */
  inUnit(z: number): number;
}

/** The factor of a Gaussian process takes the cube of the points. */
export const MOST_FITTED = 300;
/** Values closer together than by this factor have logarithms as straight as themselves. */
const APART = 2;

export function groundOf({ factors, rows, values }: SurfaceData, form: Form): Ground {
  const order = shuffled(rows.length);
  const used = order.slice(0, MOST_FITTED);
  const known = used.map((i) => rows[i]);
  const axes = axesOf(factors, known);
  const y = Float64Array.from(used, (i) => (form === 'value' ? values[i] : Math.log(values[i])));
  const middle = y.reduce((sum, each) => sum + each, 0) / y.length;
  const deviation = Math.sqrt(y.reduce((sum, each) => sum + (each - middle) ** 2, 0) / y.length);
  // values that are all alike are taken in their own size
  const scale = deviation > 1e-12 * Math.abs(middle) ? deviation : Math.abs(middle) || 1;
  return {
    axes,
    samples: { points: known.map((row) => placeOf(axes, row)), z: y.map((each) => (each - middle) / scale) },
    rows: known,
    kept: order.slice(MOST_FITTED),
    inUnit: form === 'value' ? (z) => middle + scale * z : (z) => Math.exp(middle + scale * z),
  };
}

/** The forms worth trying. */
export function formsOf(values: ArrayLike<number>): Form[] {
  const [least, most] = Array.from(values).reduce(
    ([low, high], each) => [Math.min(low, each), Math.max(high, each)],
    [values[0], values[0]],
  );
  return least > 0 && most > APART * least ? ['value', 'logarithm'] : ['value'];
}

/** The same order for as many points, by the shuffle of Fisher and Yates: so the rest is drawn as the fitted ones are, and folds are alike. */
function shuffled(count: number): number[] {
  const { uniform } = deviates(1, 0);
  const order = Array.from({ length: count }, (_, i) => i);
  for (let i = count - 1; i > 0; i--) {
    const j = Math.floor(uniform() * (i + 1));
    [order[i], order[j]] = [order[j], order[i]];
  }
  return order;
}
