import { continuedFraction } from './continued-fraction.ts';
import { logGamma } from './gamma-function.ts';

/** Incomplete beta ratio I_x(a, b), a and b > 0, x from 0 to 1: continued fraction (Abramowitz and Stegun 26.5.8) on the side where it is quick. */
export function betaShare(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - betaShare(1 - x, b, a);
  const front = Math.exp(a * Math.log(x) + b * Math.log1p(-x) + logGamma(a + b) - logGamma(a) - logGamma(b)) / a;
  const fraction = continuedFraction((k) => {
    if (k === 1) return [1, 1];
    const m = Math.floor((k - 1) / 2);
    if (k % 2 === 1) return [(m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m)), 1];
    return [(-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1)), 1];
  });
  return front * fraction;
}
