import type { CompiledLattice } from './compiled-lattice.ts';
import { pushOfFloor, rub } from './floor.ts';
import { floorGauge } from './floor-gauge.ts';
import { type Energies, openLedger } from './ledger.ts';
import type { Model } from './model.ts';
import { NODE_NUMBERS } from './nodes.ts';
import { type BounceEnd, makeUmpire } from './umpire.ts';

/** Everything a bounce starts from. */
export interface BounceSetup {
  readonly model: Model;
  /** Its motion: just touching the floor z = 0, undeformed, with the rates of that instant; moved on in place. */
  readonly lattice: CompiledLattice;
  /** Matrices (row-major, 9 each) that leave the bounce as it is: the model is one part of as many. */
  readonly group: Float64Array;
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
  /** At the positions of every step, before its loads: what the gauge's mean was at the last one, N, is told too. */
  onStep?(step: number, setup: BounceSetup, meanForceN: number): void;
}

export interface BounceRecord {
  readonly end: BounceEnd;
  /** At the end of contact, or where the run ended: energies, the spin of the body as one (rad/s), its energy, and that with the energy of its shift. */
  readonly energies: Energies;
  readonly spin: readonly number[];
  readonly spinMJ: number;
  readonly asOneMJ: number;
  readonly incomingMJ: number;
  /** Largest |sum of energies - start| / incoming so far. */
  readonly balanceError: number;
  readonly contactTimeS: number;
  readonly peakForceN: number;
  readonly peakStrain: number;
  /** Strut of the graph, its end, and when. */
  readonly peakStrut: number;
  readonly peakEnd: number;
  readonly peakTimeS: number;
  /** Of the centre of mass at the end, mm/s, and its rise above the start. */
  readonly velocity: readonly number[];
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
  const { lattice, stiffness, stepS, gravityMmS2, friction } = setup;
  const { nodes } = setup.model;
  const { motion } = lattice;
  const gauge = floorGauge(stepS);
  const umpire = makeUmpire(setup);
  const ledger = openLedger(setup);
  const rubbing = { before: 0, after: 0 };
  for (let v = 0; v < nodes.count; v++) motion.rates[NODE_NUMBERS * v + 2] += (gravityMmS2 * stepS) / 2;
  for (let step = 0; ; step++) {
    const accounting = step % ACCOUNT_EVERY === 0 || gauge.lifted;
    if (accounting) ledger.readStruts();
    hooks.onStep?.(step, setup, gauge.meanForceN);
    lattice.load();
    gauge.record(step, pushOfFloor(nodes, stiffness, motion));
    lattice.kick();
    if (friction > 0) {
      rub(nodes, stiffness, motion, friction, stepS, rubbing);
      ledger.rub(rubbing);
    }
    if (accounting) {
      ledger.close(step * stepS, gauge.forceN);
      const end = hooks.isCancelled?.() ? 'cancelled' : umpire.call(step * stepS, gauge, ledger);
      if (end) return recordOf(end, step);
      hooks.onProgress?.(umpire.progress);
    }
    lattice.drift();
  }

  function recordOf(end: BounceEnd, steps: number): BounceRecord {
    const { whole, account: _, energies, peakFace, history, ...rest } = ledger.record();
    const parts = setup.group.length / 9;
    return {
      end,
      ...rest,
      energies: mapValues(energies, (each) => parts * each),
      spinMJ: parts * rest.spinMJ,
      asOneMJ: parts * rest.asOneMJ,
      incomingMJ: parts * rest.incomingMJ,
      contactTimeS: gauge.contactTimeS,
      peakForceN: parts * gauge.peakForceN,
      peakStrut: setup.model.strutOf[peakFace >> 1],
      peakEnd: peakFace & 1,
      velocity: [...whole.velocity],
      riseMm: whole.centre[2] - ledger.startHeight,
      steps,
      history: history.map(({ forceN, ...at }) => ({ ...at, forceN: parts * forceN })),
    };
  }
}

const mapValues = (energies: Energies, change: (mJ: number) => number): Energies =>
  Object.fromEntries(Object.entries(energies).map(([name, mJ]) => [name, change(mJ)])) as unknown as Energies;
