import type { Relaxation } from './relaxation.ts';
import type { Recursion } from './strut-forces.ts';

/**
 * The exact recursion of the branches over a fixed step h for deformations linear in the step (Taylor, Pister & Goudreau 1970). With y = q - w,
 * y' = (q - y) / time: y(n+1) = keep y(n) + (hold - keep) q(n) + (1 - hold) q(n+1), keep = exp(-h / time), hold = (1 - keep) time / h.
 * The memory kept is ratio (keep y(n) + (hold - keep) q(n)).
 */
export function recursionOf({ branches }: Relaxation, stepS: number): Recursion {
  const [hold, keep, take] = [0, 1, 2].map(() => new Float64Array(branches.length));
  let present = 1;
  branches.forEach(({ ratio, timeS }, b) => {
    const x = stepS / timeS;
    keep[b] = Math.exp(-x);
    hold[b] = -Math.expm1(-x) / x;
    take[b] = ratio * hold[b] * (1 - keep[b]);
    present += ratio * hold[b];
  });
  return { count: branches.length, hold, present, keep, take };
}
