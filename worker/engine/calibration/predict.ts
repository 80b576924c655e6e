import { Z95 } from '../probability/index.ts';
import { form, type Square } from './matrix.ts';
import { lnPredicted, type VersionResponse } from './response.ts';
import { UNKNOWNS } from './unknowns.ts';

/** What is predicted of a version's mean part, and how far off that may be for all that is not known of the unknowns. */
export interface Prediction {
  readonly value: number;
  /** One standard deviation of it, in its unit. */
  readonly standardError: number;
  /** Two-sided 95 %. */
  readonly low: number;
  readonly high: number;
}

/** Slopes of ln q by the unknowns' coordinates at x: central differences of a smooth response. */
export function lnSlopes(version: VersionResponse, quantity: string, x: ArrayLike<number>): Float64Array {
  const step = 1e-5;
  const at = Float64Array.from(UNKNOWNS, (_, k) => x[k]);
  return at.map((value, j) => {
    const moved = (by: number) =>
      lnPredicted(
        version,
        quantity,
        at.map((each, k) => (k === j ? value + by : each)),
      );
    return (moved(step) - moved(-step)) / (2 * step);
  });
}

/** The prediction from a fit: normal in ln q, to first order in the unknowns. `covariance`: its first rows are the unknowns'. */
export function predict(
  version: VersionResponse,
  quantity: string,
  { x, covariance }: { readonly x: ArrayLike<number>; readonly covariance: Square },
): Prediction {
  const ln = lnPredicted(version, quantity, x);
  const slopes = lnSlopes(version, quantity, x);
  const own = UNKNOWNS.map((_, j) => covariance[j].slice(0, UNKNOWNS.length));
  return spread(ln, Math.sqrt(Math.max(0, form(slopes, own, slopes))));
}

/** A value whose logarithm is normal. */
export const spread = (ln: number, deviation: number): Prediction => ({
  value: Math.exp(ln),
  standardError: Math.exp(ln) * deviation,
  low: Math.exp(ln - Z95 * deviation),
  high: Math.exp(ln + Z95 * deviation),
});
