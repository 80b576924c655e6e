import type { Branch } from './relaxation.ts';

/** The branches over one fixed step. */
export interface Recursion {
  /** Share of a change of q within the step that a branch still holds at its end. */
  readonly hold: Float64Array;
  /** 1 + sum of ratio * hold: the stiffness that a step meets. */
  readonly present: number;
  /** What a branch keeps of its memory over a step, and what it takes from the present deformation. */
  readonly keep: Float64Array;
  readonly take: Float64Array;
}

/**
 * The exact recursion of the branches over a fixed step h for deformations linear in the step (Taylor, Pister & Goudreau 1970). With y = q - w,
 * y' = (q - y) / time: y(n+1) = keep y(n) + (hold - keep) q(n) + (1 - hold) q(n+1), keep = exp(-h / time), hold = (1 - keep) time / h.
 * The memory kept is ratio (keep y(n) + (hold - keep) q(n)); so q + sum of ratio w = present q - sum of memory, and memory <- keep memory + take q.
 */
export function recursionOf(branches: readonly Branch[], stepS: number): Recursion {
  const [hold, keep, take] = [0, 1, 2].map(() => new Float64Array(branches.length));
  let present = 1;
  branches.forEach(({ ratio, timeS }, b) => {
    const x = stepS / timeS;
    keep[b] = Math.exp(-x);
    hold[b] = -Math.expm1(-x) / x;
    take[b] = ratio * hold[b] * (1 - keep[b]);
    present += ratio * hold[b];
  });
  return { hold, present, keep, take };
}
