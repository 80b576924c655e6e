import { deformationsOf, naturalForces } from './deformations.ts';
import { type Fibres, strainAt } from './fibres.ts';
import type { Motion } from './node-motion.ts';
import type { Branch } from './relaxation.ts';
import { DEFORMATIONS, type Recursion, type Struts } from './strut-forces.ts';

/** What the struts hold and lose at one instant. */
export interface StrutAccount {
  /** 1/2 q K q over all struts, mJ. */
  strain: number;
  /** Stored in the springs of the branches, mJ. */
  branches: number;
  /** Lost in their dashpots, mJ/s. */
  loss: number;
  /** Largest fibre strain, and the face (2 strut + end, in the model's order) where it is. */
  peakStrain: number;
  peakFace: number;
  /** Largest sine squared by which a section is turned against its chord. */
  sines: number;
}

/** The struts and what they remember. */
export interface StrutState {
  readonly struts: Struts;
  readonly fibres: Fibres;
  readonly branches: readonly Branch[];
  readonly recursion: Recursion;
  readonly memory: Float64Array;
}

export const emptyAccount = (): StrutAccount => ({ strain: 0, branches: 0, loss: 0, peakStrain: 0, peakFace: 0, sines: 0 });

/**
 * Accounts for all struts at the present positions, before `strutForces` moves the memory on to them. A branch's spring holds w = hold q - memory / ratio:
 * it stores 1/2 ratio w K w and its dashpot turns ratio w K w / time into heat.
 */
export function accountForStruts({ struts, fibres, branches, recursion, memory }: StrutState, motion: Motion, account: StrutAccount): void {
  Object.assign(account, { strain: 0, branches: 0, loss: 0, peakStrain: 0, sines: 0 });
  for (let s = 0, m = 0; s < struts.count; s++) {
    account.sines = Math.max(account.sines, deformationsOf(struts, s, motion.positions, motion.rotations, q));
    naturalForces(struts, s, q, force);
    account.strain += work(q, force) / 2;
    for (let end = 0; end < 2; end++) {
      const strain = strainAt(fibres, s, end, force);
      if (strain > account.peakStrain) {
        account.peakStrain = strain;
        account.peakFace = 2 * s + end;
      }
    }
    for (let b = 0; b < branches.length; b++, m += DEFORMATIONS) {
      const { ratio, timeS } = branches[b];
      for (let k = 0; k < DEFORMATIONS; k++) held[k] = recursion.hold[b] * q[k] - memory[m + k] / ratio;
      naturalForces(struts, s, held, force);
      const twice = ratio * work(held, force);
      account.branches += twice / 2;
      account.loss += twice / timeS;
    }
  }
}

/** Scratch of one strut. */
const q = new Float64Array(DEFORMATIONS);
const held = new Float64Array(DEFORMATIONS);
const force = new Float64Array(DEFORMATIONS);

const work = (q: Float64Array, f: Float64Array): number =>
  q[0] * f[0] + q[1] * f[1] + q[2] * f[2] + q[3] * f[3] + q[4] * f[4] + q[5] * f[5];
