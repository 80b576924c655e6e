/** Stirling's series is exact to rounding from here on; smaller arguments are brought here by x Gamma(x) = Gamma(x + 1). */
const FAR = 15;
const BERNOULLI = [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360_360, 1 / 156];

/** Natural logarithm of the gamma function of x > 0 (Abramowitz and Stegun 6.1.41). */
export function logGamma(x: number): number {
  let [at, product] = [x, 1];
  for (; at < FAR; at++) product *= at;
  let [power, series] = [1 / at, 0];
  for (const term of BERNOULLI) {
    series += term * power;
    power /= at * at;
  }
  return (at - 0.5) * Math.log(at) - at + 0.5 * Math.log(2 * Math.PI) + series - Math.log(product);
}
