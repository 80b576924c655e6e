/** Terms of the series and levels of the continued fraction: enough for rounding on either side of the border. */
const BORDER = 3;
const LEVELS = 200;

/**
 * Standard normal distribution function. Near the middle the series phi(x) (x + x^3/3 + x^5/15 + ...) (Abramowitz and Stegun 26.2.11), in
 * the tails Laplace's continued fraction for the upper share (26.2.14): exact to 1e-14 in either.
 */
export function normalShare(x: number): number {
  if (Number.isNaN(x)) return x;
  if (Math.abs(x) > 40) return x > 0 ? 1 : 0;
  const density = Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
  if (Math.abs(x) < BORDER) {
    let [term, sum] = [x, x];
    for (let n = 3; Math.abs(term) > 1e-17 * Math.abs(sum); n += 2) {
      term *= (x * x) / n;
      sum += term;
    }
    return 0.5 + density * sum;
  }
  let fraction = Math.abs(x);
  for (let n = LEVELS; n > 0; n--) fraction = Math.abs(x) + n / fraction;
  return x > 0 ? 1 - density / fraction : density / fraction;
}
