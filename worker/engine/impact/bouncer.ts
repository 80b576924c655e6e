import { type BounceHooks, type BounceRecord, bounce } from './bounce.ts';
import { type Arrival, arrive, type Prepared, partFor, prepare } from './prepare.ts';
import type { Direction } from './turn.ts';

/** Miss of the energy balance, as a share of the incoming energy, above which a bounce is done again with half the step; 0.5 % is promised. */
const TIDY = 0.004;

/**
 * Runs bounces of one prepared lattice, on the part that repeats where `down` is given. Where energies do not add up (a soft, coarse lattice that is nearly
 * crushed), the bounce is done again with half the step, at most `halvings` times; progress then only goes on where it stood.
 */
export function bouncer(prepared: Prepared, halvings: number): (arrival: Arrival, hooks: BounceHooks, down?: Direction) => BounceRecord {
  const finer = [prepared];
  return (arrival, hooks, down) => {
    let furthest = 0;
    const onProgress = (share: number) => {
      furthest = Math.max(furthest, share);
      hooks.onProgress?.(furthest);
    };
    for (let level = 0; ; level++) {
      finer[level] ??= refined(finer[level - 1]);
      const part = down ? partFor(finer[level], down) : finer[level];
      const record = bounce(arrive(part, arrival), { ...hooks, onProgress });
      if (record.end === 'cancelled' || record.balanceError <= TIDY || level >= halvings) return record;
    }
  };
}

/** The same with half the step. */
function refined(prepared: Prepared): Prepared {
  const finer = prepare(prepared, prepared.stepS / 2);
  if (finer.kind !== 'prepared') throw new Error(finer.message);
  return finer;
}
