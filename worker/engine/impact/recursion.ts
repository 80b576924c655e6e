import type { Relaxation } from './relaxation.ts';
import type { Recursion } from './strut-forces.ts';

/**
 * The exact recursion of the branches over a fixed step h for deformations linear in the step (Taylor, Pister & Goudreau 1970): with
 * y' = (q - y) / time, y(n+1) = keep y(n) + old q(n) + fresh q(n+1), keep = exp(-h / time), fresh = 1 - r, old = r - keep, r = (1 - keep) time / h.
 * The memory kept is ratio (keep y + old q).
 */
export function recursionOf({ branches }: Relaxation, stepS: number): Recursion {
  const keep = new Float64Array(branches.length);
  const take = new Float64Array(branches.length);
  let present = 1;
  branches.forEach(({ ratio, timeS }, b) => {
    const x = stepS / timeS;
    const r = -Math.expm1(-x) / x;
    keep[b] = Math.exp(-x);
    take[b] = ratio * (keep[b] * (1 - r) + r - keep[b]);
    present += ratio * r;
  });
  return { count: branches.length, present, keep, take };
}
