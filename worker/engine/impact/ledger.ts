import type { BounceSetup } from './bounce.ts';
import type { StrutAccount } from './compiled-lattice.ts';
import { contactEnergy, type Rubbing } from './floor.ts';
import { copyWhole, makeWhole, spinOf, type Whole, wholeOf } from './whole.ts';

/** Energies at one instant, mJ. */
export interface Energies {
  /** Of all nodes. */
  readonly kinetic: number;
  readonly strain: number;
  /** In the springs of the branches, and in the contact springs. */
  readonly branches: number;
  readonly contact: number;
  /** Of weight, above the start. */
  readonly weight: number;
  /** Turned to heat so far: in dashpots, by friction on the floor. */
  readonly dissipated: number;
  readonly rubbed: number;
}

export interface Ledger {
  /** As of the last close. */
  readonly whole: Whole;
  readonly account: StrutAccount;
  readonly startHeight: number;
  /** The last close found numbers that are none; everything else here is as of the one before. */
  readonly broken: boolean;
  /** First half of an account, before the memory of the branches moves on. */
  readStruts(): void;
  rub(rubbing: Rubbing): void;
  /** Second half, after the kick. */
  close(timeS: number, forceN: number): void;
  record(): Records;
}

/** At the end of contact. */
interface Lift {
  readonly energies: Energies;
  /** Of the body as one, rad/s; the energy of its spin, and that with the energy of its shift. */
  readonly spin: readonly number[];
  readonly spinMJ: number;
  readonly asOneMJ: number;
}

interface Records extends Lift {
  readonly whole: Whole;
  readonly account: StrutAccount;
  readonly incomingMJ: number;
  readonly balanceError: number;
  readonly peakStrain: number;
  readonly peakFace: number;
  readonly peakTimeS: number;
  readonly history: { timeS: number; riseMm: number; forceN: number }[];
}

/** Keeps the books of a bounce: every energy, the largest miss of their sum, the largest strain, the history. Loss is summed by the trapezoidal rule. */
export function openLedger({ model, lattice, group, stiffness, gravityMmS2 }: BounceSetup): Ledger {
  const { nodes, massT } = model;
  const whole = makeWhole();
  const now = makeWhole();
  const account: StrutAccount = { strain: 0, branches: 0, loss: 0, peakStrain: 0, sine: 0 };
  const { motion } = lattice;
  const before = motion.rates.slice();
  wholeOf(nodes, motion, before, group, whole);
  const startHeight = whole.centre[2];
  const incomingMJ = whole.kinetic;
  const history: Records['history'] = [];
  let [dissipated, rubbed, balanceError, peakStrain, peakTimeS] = [0, 0, 0, 0, 0];
  let [lastTime, lastLoss, yetToRub] = [0, 0, 0];
  let energies: Energies;
  let lift: Lift | null = null;
  const liftOf = (): Lift => {
    const { spin, energy } = spinOf(nodes, motion, group, whole);
    const shifting = (massT / 2) * whole.velocity.reduce((sum, each) => sum + each * each, 0);
    return { energies, spin, spinMJ: energy, asOneMJ: shifting + energy };
  };
  const strainedMost = () => {
    let face = 0;
    for (let k = 1; k < 2 * model.struts.count; k++) if (lattice.strainAt(k) > lattice.strainAt(face)) face = k;
    return face;
  };
  const ledger = {
    broken: false,
    whole,
    account,
    startHeight,
    readStruts(): void {
      lattice.account(account);
      before.set(motion.rates);
    },
    rub({ before, after }: Rubbing): void {
      rubbed += yetToRub + before;
      yetToRub = after;
    },
    close(timeS: number, forceN: number): void {
      wholeOf(nodes, motion, before, group, now);
      const { kinetic } = now;
      ledger.broken = !Number.isFinite(kinetic + account.strain + account.branches + account.loss);
      if (ledger.broken) return;
      copyWhole(now, whole);
      dissipated += ((account.loss + lastLoss) / 2) * (timeS - lastTime);
      [lastTime, lastLoss] = [timeS, account.loss];
      const { strain, branches } = account;
      const contact = contactEnergy(nodes, stiffness, motion);
      const weight = massT * gravityMmS2 * (whole.centre[2] - startHeight);
      energies = { kinetic, strain, branches, contact, weight, dissipated, rubbed };
      balanceError = Math.max(
        balanceError,
        Math.abs(kinetic + strain + branches + contact + weight + dissipated + rubbed - incomingMJ) / incomingMJ,
      );
      if (account.peakStrain > peakStrain) [peakStrain, peakTimeS] = [account.peakStrain, timeS];
      if (forceN > 0) lift = null;
      else lift ??= liftOf();
      history.push({ timeS, riseMm: whole.centre[2] - startHeight, forceN });
    },
    record: () => ({
      whole,
      account,
      ...(lift ?? liftOf()),
      incomingMJ,
      balanceError,
      peakStrain,
      peakFace: strainedMost(),
      peakTimeS,
      history,
    }),
  };
  return ledger;
}
