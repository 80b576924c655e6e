import type { Samples } from './gaussian.ts';
import { orthogonal, product, weights } from './orthogonal.ts';
import type { Predictor } from './predictor.ts';

/** Below it nothing is told from rounding. */
const LEAST_VARIANCE = 1e-16;

/** 1, all x, all squares and all products of two. */
function terms(x: Float64Array): Float64Array {
  const d = x.length;
  const found = new Float64Array(1 + d + (d * (d + 1)) / 2);
  found[0] = 1;
  found.set(x, 1);
  let place = 1 + d;
  for (let i = 0; i < d; i++) for (let j = 0; j <= i; j++) found[place++] = x[i] * x[j];
  return found;
}

/**
 * Least squares of a quadratic polynomial in all axes. Deviation of a new observation s sqrt(1 + h) with s^2 the residuals' square over n - p and h the
 * leverage (Montgomery, Peck and Vining 2012, section 3.5). Terms that others make up (a square of an axis with two values) are left out. null: fewer than
 * two points for each term.
 */
export function quadratic({ points, z }: Samples): Predictor | null {
  const n = points.length;
  const rows = points.map(terms);
  if (n < 2 * rows[0].length) return null;
  const basis = orthogonal(Array.from(rows[0], (_, k) => Float64Array.from(rows, (row) => row[k])));
  const shares = basis.q.map((each) => product(each, z));
  const left = z.slice();
  for (const [j, each] of basis.q.entries()) for (let i = 0; i < n; i++) left[i] -= shares[j] * each[i];
  const variance = Math.max(LEAST_VARIANCE, product(left, left) / (n - basis.q.length));
  return (point) => {
    const w = weights(basis, terms(point));
    return { mean: product(w, shares), deviation: Math.sqrt(variance * (1 + product(w, w))) };
  };
}
