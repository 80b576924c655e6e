import { chiSquaredTail } from './chi-squared.ts';
import { logGamma } from './gamma-function.ts';
import { normalQuantile } from './normal-quantile.ts';
import { normalShare } from './normal-share.ts';
import { rootOf } from './root.ts';

/**
 * Normal tolerance intervals: mean + k s of n parts holds at least a share p of all parts below it, or mean +- k s holds it between, with so
 * much confidence (ISO 16269-6). Every function is of n >= 2 parts. Quadratures are trapezoidal sums of functions that die away on both sides,
 * which converge faster than any power of the step; QUARTER of their deviation leaves less than 1e-12.
 */
export interface Coverage {
  readonly n: number;
  /** Share of all parts, 0 to 1. */
  readonly p: number;
}
const QUARTER = 0.25;
const DEAD = 40;

/**
 * Confidence of the one-sided statement: share of the noncentral t distribution with n - 1 degrees of freedom and noncentrality z_p sqrt(n) below
 * k sqrt(n), as the mean over s = sigma e^u of the normal share of (k s - z_p sigma) sqrt(n) / sigma.
 */
export function oneSidedConfidence(k: number, { n, p }: Coverage): number {
  const nu = n - 1;
  const z = normalQuantile(p);
  const front = Math.log(2) + (nu / 2) * Math.log(nu / 2) - logGamma(nu / 2);
  const step = QUARTER / Math.sqrt(2 * nu);
  const weight = (u: number) => front + nu * (u - Math.exp(2 * u) / 2);
  let sum = 0;
  for (const way of [1, -1]) {
    for (let at = way > 0 ? 0 : 1; ; at++) {
      const u = way * at * step;
      const log = weight(u);
      if (log < -DEAD) break;
      sum += Math.exp(log) * normalShare((k * Math.exp(u) - z) * Math.sqrt(n));
    }
  }
  return Math.min(1, sum * step);
}

/** Half widths r that hold the share p of a unit normal whose mean lies x off their middle, at the places of the quadrature over the mean. */
function halfWidths({ n, p }: Coverage): { r: number; weight: number }[] {
  const step = QUARTER / Math.sqrt(n);
  const places: { r: number; weight: number }[] = [];
  let r = normalQuantile((1 + p) / 2);
  for (let at = 0; ; at++) {
    const x = at * step;
    const weight = density(x * Math.sqrt(n)) * Math.sqrt(n) * step;
    if (weight < 1e-17) return places;
    r = halfWidth(x, p, r);
    places.push({ r, weight: at === 0 ? weight : 2 * weight });
  }
}

const density = (x: number) => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);

/** By Newton's method from a half width that is too small: beyond x the share grows ever more slowly, so it stays too small until it is reached. */
function halfWidth(x: number, p: number, from: number): number {
  let r = from;
  for (let k = 0; k < 50; k++) {
    const step = (p - normalShare(x + r) + normalShare(x - r)) / (density(x + r) + density(x - r));
    r += step;
    if (step <= 1e-14 * r) break;
  }
  return r;
}

const confidenceAt = (k: number, n: number, places: readonly { r: number; weight: number }[]): number =>
  Math.min(
    1,
    places.reduce((sum, { r, weight }) => sum + weight * chiSquaredTail(((n - 1) * r * r) / (k * k), n - 1), 0),
  );

/** Confidence of the two-sided statement, mean over the sample mean (Wald and Wolfowitz 1946, evaluated as by Odeh 1978). */
export const twoSidedConfidence = (k: number, coverage: Coverage): number =>
  k <= 0 ? 0 : confidenceAt(k, coverage.n, halfWidths(coverage));

/** One-sided tolerance factor k of n, p and the confidence (0 to 1). */
export const oneSidedFactor = (coverage: Coverage, confidence: number): number =>
  rootOf((k) => oneSidedConfidence(k, coverage) - confidence, { from: -50, step: 25 });

/** Two-sided tolerance factor k of n, p and the confidence. */
export function twoSidedFactor(coverage: Coverage, confidence: number): number {
  const places = halfWidths(coverage);
  return rootOf((k) => confidenceAt(k, coverage.n, places) - confidence, { from: 1e-3, step: 1 });
}
