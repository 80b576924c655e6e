import { betaShare } from './incomplete-beta.ts';
import { rootOf } from './root.ts';

/** Share of Student's distribution above t >= 0, nu degrees of freedom (Abramowitz and Stegun 26.7.1). */
const studentTail = (t: number, nu: number): number => betaShare(nu / (nu + t * t), nu / 2, 0.5) / 2;

/** The t below which this share lies, 0 < share < 1. */
export function studentQuantile(share: number, nu: number): number {
  if (share < 0.5) return -studentQuantile(1 - share, nu);
  const above = 1 - share;
  return rootOf((t) => above - studentTail(t, nu), { from: 0, step: 1 });
}
