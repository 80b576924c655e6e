import { analyse, factorise, fromTriplets, order, type SymbolicFactor } from '../sparse/index.ts';
import { type Fold, placeGhosts } from './fold.ts';
import { type Guide, guideOf } from './guide.ts';
import { type FrameTangent, frameGradient, frameTangent, move, tangentOf } from './large-frame.ts';
import type { Placement, StrutsAtRest } from './large-strut.ts';
import { lowestMode } from './lowest-mode.ts';
import { conjugateGradients } from './newton-step.ts';

/** What acts on a frame: loads with a potential, contact. Energies in N mm; unknown 6 v + k is shift or spin k of node v. */
export interface Actions {
  /** Adds the gradient, answers the energy. */
  gradient(placement: Placement, gradient: Float64Array): number;
  /** As `gradient`, and adds second derivatives to the tangent. */
  tangent(placement: Placement, gradient: Float64Array, tangent: FrameTangent): number;
}

/** A frame that seeks its equilibrium under large rotation, with all the memory that takes. */
export interface Equilibrium {
  readonly frame: StrutsAtRest;
  readonly actions: Actions;
  /** Only a part of the frame is computed; energies are those of the part. */
  readonly fold: Fold | null;
  /** 1 where an unknown is held. */
  readonly held: Uint8Array;
  /** Linear conditions on the moves, as rows over the unknowns: every move keeps them exactly. */
  readonly guides: readonly Float64Array[];
  /** The present state. */
  readonly placement: Placement;
  readonly trial: Placement;
  readonly tangent: FrameTangent;
  readonly symbolic: SymbolicFactor;
  /** Weight of an unknown in the shift that makes a tangent positive definite: 1 for shifts, mean length^2 for spins. */
  readonly weights: Float64Array;
  readonly lengthMm: number;
  readonly gradient: Float64Array;
  readonly step: Float64Array;
  guide: Guide | null;
  /** Called every few milliseconds within a step; may throw. */
  readonly poll: () => void;
  /** The shift that the last factor took, and the last lowest mode: where the next search starts. */
  shift: number;
  mode: Float64Array | null;
}

export interface FrameConditions {
  /** With a fold: its computed struts, between places of the computed nodes and ghosts. */
  readonly frame: StrutsAtRest & { readonly graph: { readonly nodeCount: number; readonly xyz: Float64Array; readonly ends: Int32Array } };
  readonly actions: Actions;
  readonly fold?: Fold;
  readonly held?: Uint8Array;
  readonly guides?: readonly Float64Array[];
  /** Called every few milliseconds; may throw. */
  readonly poll?: () => void;
}

/** Everything for a frame at its reference. */
export function equilibriumOf({ frame, actions, fold, held, guides = [], poll = () => {} }: FrameConditions): Equilibrium {
  const { graph, lengthMm } = frame;
  const unknowns = fold ? { nodeCount: fold.count, ends: graph.ends.map((place) => fold.of[place]) } : graph;
  const tangent = tangentOf(unknowns);
  poll();
  const { n } = tangent;
  const mean = lengthMm.reduce((sum, each) => sum + each, 0) / lengthMm.length;
  const rotations = new Float64Array(9 * graph.nodeCount);
  for (let k = 0; k < rotations.length; k += 9) rotations[k] = rotations[k + 4] = rotations[k + 8] = 1;
  const placement = { positions: graph.xyz.slice(), rotations };
  return {
    frame,
    actions,
    fold: fold ?? null,
    held: held ?? new Uint8Array(n),
    guides,
    placement,
    trial: { positions: graph.xyz.slice(), rotations: rotations.slice() },
    tangent,
    symbolic: analyse(tangent, eliminationOrder(unknowns, poll), poll),
    weights: Float64Array.from({ length: n }, (_, k) => (k % 6 < 3 ? 1 : mean * mean)),
    lengthMm: mean,
    gradient: new Float64Array(n),
    step: new Float64Array(n),
    guide: null,
    poll,
    shift: 0,
    mode: null,
  };
}

/** The order of the nodes' graph, as a node's unknowns have the same neighbours. */
function eliminationOrder({ nodeCount, ends }: { readonly nodeCount: number; readonly ends: Int32Array }, poll: () => void): Int32Array {
  const rows = Array.from({ length: ends.length / 2 }, (_, s) => ends[2 * s]);
  const columns = Array.from({ length: ends.length / 2 }, (_, s) => ends[2 * s + 1]);
  const nodes = order(fromTriplets(nodeCount, rows, columns, new Float64Array(rows.length).fill(1)), poll);
  return Int32Array.from({ length: 6 * nodeCount }, (_, k) => 6 * nodes[Math.floor(k / 6)] + (k % 6));
}

export type Settled =
  /** Newton steps taken; energy N mm. */
  | { readonly kind: 'settled'; readonly energy: number; readonly steps: number }
  | { readonly kind: 'not-converged' | 'cancelled'; readonly steps: number };

const MOST_STEPS = 200;
/** Energy that a step wins over all energy, for it to be the last: what it leaves is 1e-4 of that again, and forces are good to the root. */
const ENOUGH = 1e-9;
/** Conjugate gradients that a factor of an earlier tangent may need before it is renewed. */
const PATIENCE = 8;
/** A step moves no node further than this share of a strut's mean length, and turns none by more (rad). */
const FURTHEST = 0.3;

/**
 * Moves the frame to a minimum of all energy near where it is: Newton steps by conjugate gradients on the exact tangent, preconditioned by the factor
 * of an earlier one (Dembo & Steihaug 1983), each shortened until the energy falls; so it goes down through a snap. On failure the placement is the last
 * one reached.
 */
export function settle(equilibrium: Equilibrium, isCancelled: () => boolean = () => false): Settled {
  const { placement, trial, gradient, step } = equilibrium;
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    if (isCancelled()) return { kind: 'cancelled', steps };
    const energy = linearise(equilibrium);
    if (!Number.isFinite(energy)) return { kind: 'not-converged', steps };
    const guide = equilibrium.guide ?? renewGuide(equilibrium);
    if (!guide) return { kind: 'not-converged', steps };
    const { rounds, curvature } = conjugateGradients(equilibrium.tangent, guide, gradient, step, isCancelled);
    if (isCancelled()) return { kind: 'cancelled', steps };
    if (rounds > PATIENCE || curvature <= 0) equilibrium.guide = null;
    const slope = product(gradient, step);
    const finished = -slope <= ENOUGH * Math.abs(energy) + Number.MIN_VALUE;
    const taken = finished ? 1 : search(equilibrium, energy, slope);
    if (taken === 0) {
      // A step from an old factor may fail where one from a new does not.
      if (equilibrium.guide === guide && guide.age > 0) equilibrium.guide = null;
      else return { kind: 'not-converged', steps };
      continue;
    }
    guide.age++;
    moveBy(equilibrium, taken);
    placement.positions.set(trial.positions);
    placement.rotations.set(trial.rotations);
    if (finished) return { kind: 'settled', energy: energy + slope / 2, steps };
  }
  return { kind: 'not-converged', steps: MOST_STEPS };
}

/** The trial: the placement moved on by a share of the step. */
function moveBy({ placement, step, trial, fold }: Equilibrium, share: number): void {
  move(placement, step, share, trial);
  if (fold) placeGhosts(fold, trial);
}

/** Energy, gradient and tangent at the present placement; held unknowns have gradient 0 and a diagonal of their own. */
function linearise({ frame, actions, held, fold, placement, gradient, tangent, poll }: Equilibrium): number {
  poll();
  let energy = frameTangent(frame, placement, gradient, tangent, fold);
  energy += actions.tangent(placement, gradient, tangent);
  const { n, colPtr, rowIdx, values } = tangent;
  for (let c = 0; c < n; c++) {
    if (held[c]) gradient[c] = 0;
    const scale = values[colPtr[c]];
    for (let p = colPtr[c]; p < colPtr[c + 1]; p++) if (held[c] || held[rowIdx[p]]) values[p] = 0;
    if (held[c]) values[colPtr[c]] = scale;
  }
  return energy;
}

/** Largest share of the step, by halves, along which the energy falls enough (Armijo); 0: none. */
function search(equilibrium: Equilibrium, energy: number, slope: number): number {
  const { frame, actions, fold, trial, step, tangent, lengthMm } = equilibrium;
  const scratch = new Float64Array(tangent.n);
  let most = 0;
  for (let k = 0; k < step.length; k++) most = Math.max(most, Math.abs(step[k]) / (k % 6 < 3 ? lengthMm : 1));
  let share = Math.min(1, FURTHEST / most);
  for (let halvings = 0; halvings < 30; halvings++, share /= 2) {
    moveBy(equilibrium, share);
    const there = frameGradient(frame, trial, scratch, fold) + actions.gradient(trial, scratch);
    // Within rounding of the energy a step can no longer be judged, nor does it need to be.
    if (there <= energy + 1e-4 * share * slope + 1e-14 * Math.abs(energy)) return share;
  }
  return 0;
}

/** Shift (as a share of the tangent's least diagonal entry) with which a tangent with rigid motions factorises; next tries where it is not enough. */
const LEAST_SHIFT = 1e-7;
const FIRST_SHIFT = 1e-3;
const SHIFT_GROWTH = 8;
const MOST_SHIFTS = 12;

/** Factorises the tangent as it stands, shifted until it is positive definite; null where no shift of reason does it. */
function renewGuide(equilibrium: Equilibrium): Guide | null {
  const { tangent, symbolic, weights, guides } = equilibrium;
  const { n, colPtr, values } = tangent;
  let least = Number.POSITIVE_INFINITY;
  for (let c = 0; c < n; c++) if (values[colPtr[c]] > 0) least = Math.min(least, values[colPtr[c]] / weights[c]);
  let shift = 0;
  let next = Math.max(equilibrium.shift, LEAST_SHIFT * least);
  for (let tries = 0; tries < MOST_SHIFTS; tries++, next = Math.max(FIRST_SHIFT * least, SHIFT_GROWTH * next)) {
    for (let c = 0; c < n; c++) values[colPtr[c]] += (next - shift) * weights[c];
    shift = next;
    const factor = factorise(symbolic, tangent, equilibrium.poll);
    if (factor.kind !== 'factor') continue;
    for (let c = 0; c < n; c++) values[colPtr[c]] -= shift * weights[c];
    equilibrium.shift = shift > LEAST_SHIFT * least ? shift : 0;
    equilibrium.guide = guideOf({ factor, scale: least, shift, shifted: equilibrium.shift > 0, guides, n });
    return equilibrium.guide;
  }
  return null;
}

export type Stability = { readonly kind: 'stable' } | { readonly kind: 'unstable'; readonly mode: Float64Array };

/**
 * Whether the present equilibrium is a minimum: the tangent is positive definite on moves that the guides allow. Renews the factor. Where it is not,
 * the mode is the move in which the energy falls most.
 */
export function stabilityOf(equilibrium: Equilibrium, isCancelled: () => boolean = () => false): Stability {
  linearise(equilibrium);
  const guide = renewGuide(equilibrium);
  if (!guide?.shifted) return { kind: 'stable' };
  const { value, vector } = lowestMode(equilibrium.tangent, equilibrium.weights, guide, equilibrium.mode, isCancelled);
  equilibrium.mode = vector;
  // Rigid motions that nothing resists have the value 0 within rounding.
  return value < -LEAST_SHIFT * guide.scale ? { kind: 'unstable', mode: vector } : { kind: 'stable' };
}

function product(x: Float64Array, y: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < x.length; k++) sum += x[k] * y[k];
  return sum;
}
