import type { CompiledStruts } from './compiled-struts.ts';
import { pushOfFloor, rub } from './floor.ts';
import { floorGauge } from './floor-gauge.ts';
import { type Energies, openLedger } from './ledger.ts';
import type { Model } from './model.ts';
import { drift, kick, type Motion } from './node-motion.ts';
import { type BounceEnd, makeUmpire } from './umpire.ts';

/** Everything a bounce starts from. */
export interface BounceSetup {
  readonly model: Model;
  readonly struts: CompiledStruts;
  /** Just touching the floor z = 0, undeformed, with the velocities of that instant; moved on in place. */
  readonly motion: Motion;
  /** Of the contact springs, N/mm per node. */
  readonly stiffness: Float64Array;
  readonly stepS: number;
  readonly gravityMmS2: number;
  readonly friction: number;
}

export interface BounceHooks {
  isCancelled?(): boolean;
  /** Share of the bounce that is over, 0 to 1, by the speed of the centre of mass. */
  onProgress?(share: number): void;
}

export interface BounceRecord {
  readonly end: BounceEnd;
  /** At the end of contact, or where the run ended. */
  readonly energies: Energies;
  readonly incomingMJ: number;
  /** Largest |sum of energies - start| / incoming so far. */
  readonly balanceError: number;
  readonly contactTimeS: number;
  readonly peakForceN: number;
  readonly peakStrain: number;
  /** Face 2 * strut + end in the model's order, and when. */
  readonly peakFace: number;
  readonly peakTimeS: number;
  /** Of the body as a whole at the end, mm/s and rad/s; and its centre's rise above the start. */
  readonly velocity: readonly number[];
  readonly spin: readonly number[];
  readonly riseMm: number;
  readonly steps: number;
  readonly history: readonly { readonly timeS: number; readonly riseMm: number; readonly forceN: number }[];
}

/** Steps between two accounts; the hooks are asked as often. */
const ACCOUNT_EVERY = 8;

/**
 * One bounce by leapfrog (Stoermer-Verlet): loads at the positions, kick, drift, until the umpire calls an end. Between two steps velocities are half a
 * step behind; at the start only gravity acts, so they are put back by half its kick.
 */
export function bounce(setup: BounceSetup, hooks: BounceHooks = {}): BounceRecord {
  const { model, struts, motion, stiffness, stepS, gravityMmS2, friction } = setup;
  const { nodes } = model;
  const gauge = floorGauge(stepS);
  const umpire = makeUmpire(setup);
  kick(nodes, motion, gravityMmS2, -stepS / 2);
  const ledger = openLedger(setup);
  for (let step = 0; ; step++) {
    const accounting = step % ACCOUNT_EVERY === 0 || gauge.lifted;
    if (accounting) ledger.readStruts();
    motion.loads.fill(0);
    struts.addForces();
    gauge.record(step, pushOfFloor(nodes, stiffness, motion));
    kick(nodes, motion, gravityMmS2, stepS);
    if (friction > 0) ledger.rub(rub(nodes, stiffness, motion, friction, stepS));
    if (accounting) {
      ledger.close(step * stepS, gauge.forceN);
      const end = hooks.isCancelled?.() ? 'cancelled' : umpire.call(step * stepS, gauge, ledger);
      if (end) return recordOf(end, step);
      hooks.onProgress?.(umpire.progress);
    }
    drift(nodes, motion, stepS);
  }

  function recordOf(end: BounceEnd, steps: number): BounceRecord {
    const { whole, account, ...rest } = ledger.record();
    return {
      end,
      ...rest,
      contactTimeS: gauge.contactTimeS,
      peakForceN: gauge.peakForceN,
      velocity: [...whole.velocity],
      spin: [...whole.spin],
      riseMm: whole.centre[2] - ledger.startHeight,
      steps,
    };
  }
}
