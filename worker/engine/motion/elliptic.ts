/** sn, cn and dn at one argument. */
export interface Jacobi {
  readonly sn: number;
  readonly cn: number;
  readonly dn: number;
}

/** Levels of the arithmetic-geometric mean: it converges quadratically, so this is past rounding for any modulus. */
const LEVELS = 40;

/** Complete elliptic integral of the first kind, K, from the complementary parameter 1 - k^2 (above 0): pi / (2 agm(1, k')). */
export function completeK(complement: number): number {
  let [a, b] = [1, Math.sqrt(complement)];
  for (let n = 0; n < LEVELS && a - b > 1e-16 * a; n++) [a, b] = [(a + b) / 2, Math.sqrt(a * b)];
  return Math.PI / (a + b);
}

/**
 * Jacobi's elliptic functions of the parameter m = k^2 from 0 to 1 by descending Landen steps (Abramowitz and Stegun 16.4); m = 1 are the hyperbolic
 * ones. `complement` = 1 - m is given beside it, as it may be tiny.
 */
export function jacobi(u: number, m: number, complement: number): Jacobi {
  if (complement <= 0) return { sn: Math.tanh(u), cn: 1 / Math.cosh(u), dn: 1 / Math.cosh(u) };
  const a = [1];
  const c = [Math.sqrt(m)];
  let b = Math.sqrt(complement);
  let n = 0;
  for (; n < LEVELS && Math.abs(c[n]) > 1e-16 * a[n]; n++) {
    a.push((a[n] + b) / 2);
    c.push((a[n] - b) / 2);
    b = Math.sqrt(a[n] * b);
  }
  let phi = 2 ** n * a[n] * u;
  for (let k = n; k > 0; k--) phi = (Math.asin((c[k] * Math.sin(phi)) / a[k]) + phi) / 2;
  const [sn, cn] = [Math.sin(phi), Math.cos(phi)];
  return { sn, cn, dn: Math.sqrt(complement + m * cn * cn) };
}
