import { continuedFraction } from './continued-fraction.ts';
import { logGamma } from './gamma-function.ts';
import { rootOf } from './root.ts';

/** Share of the chi-squared distribution above x, nu degrees of freedom: Q(nu/2, x/2) (Abramowitz and Stegun 26.4.19, 6.5.29, 6.5.31). */
export function chiSquaredTail(x: number, nu: number): number {
  if (x <= 0) return 1;
  const [a, y] = [nu / 2, x / 2];
  const front = Math.exp(a * Math.log(y) - y - logGamma(a));
  if (y >= a + 1) return front * continuedFraction((k) => (k === 1 ? [1, y + 1 - a] : [-(k - 1) * (k - 1 - a), y + 2 * k - 1 - a]));
  let [term, sum] = [1 / a, 1 / a];
  for (let n = 1; term > 1e-17 * sum; n++) {
    term *= y / (a + n);
    sum += term;
  }
  return 1 - front * sum;
}

/** The x below which this share lies, 0 < share < 1. */
export function chiSquaredQuantile(share: number, nu: number): number {
  return rootOf((x) => 1 - share - chiSquaredTail(x, nu), { from: 0, step: nu + 1 });
}
