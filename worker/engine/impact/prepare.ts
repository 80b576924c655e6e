import type { BounceSetup } from './bounce.ts';
import { type CompiledLattice, compileLattice } from './compiled-lattice.ts';
import { partsOf } from './connected.ts';
import { fibresOf } from './fibres.ts';
import { contactStiffness, FLOOR_SHARE } from './floor.ts';
import { ALONE } from './group.ts';
import { type ElasticFrame, type Model, modelOf } from './model.ts';
import { NODE_NUMBERS } from './nodes.ts';
import type { Relaxation } from './relaxation.ts';
import { type SelfMap, stabiliser } from './stabiliser.ts';
import { stableStep } from './stable-step.ts';
import { type Direction, quaternionOf, turnDown } from './turn.ts';
import { folded, wedgeOf } from './wedge.ts';

/** The lattice that is dropped: natural stiffness of the frame at the long-term modulus, mass of the union (tonne). */
export interface Dropped {
  readonly frame: ElasticFrame;
  readonly massT: number;
  readonly relaxation: Relaxation;
  /** A group of rotations (matrices, row-major, 9 each) of which some may leave the lattice as it is: drops along their axes take less work. */
  readonly rotations?: Float64Array;
}

export const GRAVITY_MM_S2 = 9806.65;
/** Share of the stability limit of the undeformed lattice that a step takes: struts stiffen as they turn and shorten. */
const STEP_SHARE = 0.9;

/** How often a step may be halved for a bounce whose energies do not add up. */
export const MOST_HALVINGS = 3;

/** Made ready once for all orientations. */
export interface Prepared extends Dropped {
  readonly kind: 'prepared';
  readonly model: Model;
  readonly lattice: CompiledLattice;
  /** Matrices in space that leave a bounce as it is: the model is one part of as many. */
  readonly group: Float64Array;
  readonly stiffness: Float64Array;
  readonly stepS: number;
  readonly stableStepS: number;
}

export type Unprepared =
  | { readonly kind: 'disconnected'; readonly parts: number; readonly message: string }
  | { readonly kind: 'unstable-step'; readonly stepS: number; readonly stableStepS: number; readonly message: string };

/** Model, step and contact springs; refused: a graph in parts, a step (s) that the bound does not allow. `poll` is called in between, and may throw. */
export function prepare(dropped: Dropped, requestedStepS?: number, poll: () => void = () => {}): Prepared | Unprepared {
  const { frame, massT, relaxation } = dropped;
  const parts = partsOf(frame.graph);
  if (parts > 1 || frame.graph.strutCount === 0)
    return { kind: 'disconnected', parts, message: `The lattice is in ${parts} separate parts; only one can be dropped.` };
  poll();
  const model = modelOf(frame, massT);
  poll();
  const stableStepS = stableStep(model.nodes, model.struts, relaxation.instantaneousMPa / relaxation.longTermMPa, FLOOR_SHARE);
  const stepS = requestedStepS ?? STEP_SHARE * stableStepS;
  if (!(stepS > 0 && stepS <= stableStepS)) {
    const message = `A step of ${stepS} s would not be stable; allowed: above 0, at most ${stableStepS.toPrecision(4)} s.`;
    return { kind: 'unstable-step', stepS, stableStepS, message };
  }
  poll();
  const lattice = compiled(dropped, model, stepS);
  poll();
  const stiffness = contactStiffness(model.nodes, stableStepS);
  return { ...dropped, kind: 'prepared', model, lattice, group: ALONE, stiffness, stepS, stableStepS };
}

function compiled({ frame, relaxation }: Dropped, model: Model, stepS: number, strutShare?: Float64Array): CompiledLattice {
  const fibres = fibresOf(frame, model, relaxation.longTermMPa, strutShare);
  return compileLattice({ ...model, fibres, branches: relaxation.branches, stepS, gravityMmS2: GRAVITY_MM_S2 });
}

/** The smallest part of the lattice that tells of all of it when it is dropped with `down` at the floor; the whole where nothing repeats. */
export function partFor(prepared: Prepared, down: Direction): Prepared {
  const { frame, rotations, model, stepS, stableStepS } = prepared;
  const maps = rotations ? stabiliser(frame, rotations, down) : [];
  if (maps.length < 2) return prepared;
  const wedge = wedgeOf(model, maps);
  const group = inSpace(maps, turnDown(down));
  const lattice = folded(compiled(prepared, wedge.model, stepS, wedge.strutShare), wedge, maps, group);
  return { ...prepared, model: wedge.model, lattice, group, stiffness: contactStiffness(wedge.model.nodes, stableStepS) };
}

/** Matrices of the maps for a lattice that has been turned by T: T Q T^T. */
function inSpace(maps: readonly SelfMap[], T: Float64Array): Float64Array {
  const group = new Float64Array(9 * maps.length);
  maps.forEach(({ matrix: Q }, g) => {
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++)
        for (let k = 0; k < 3; k++) for (let l = 0; l < 3; l++) group[9 * g + 3 * i + j] += T[3 * i + k] * Q[3 * k + l] * T[3 * j + l];
  });
  return group;
}

/** How a lattice meets the floor: turned by a rotation matrix, then moving as a rigid body, mm/s and rad/s. */
export interface Arrival {
  readonly turn: ArrayLike<number>;
  readonly velocity: readonly number[];
  readonly spin: readonly number[];
  readonly friction: number;
}

/** A bounce from the instant when the undeformed lattice touches the floor. Bounces of one preparation use the same memory, so one at a time. */
export function arrive(prepared: Prepared, { turn, velocity, spin, friction }: Arrival): BounceSetup {
  const { model, lattice, group, stiffness, stepS } = prepared;
  const { nodes, reference } = model;
  const { positions, attitudes, rotations, rates } = lattice.motion;
  const quaternion = quaternionOf(turn);
  const centre = [0, 0, 0];
  let lowest = Number.POSITIVE_INFINITY;
  for (let v = 0; v < nodes.count; v++) {
    attitudes.set(quaternion, 4 * v);
    rotations.set(turn, 9 * v);
    for (let i = 0; i < 3; i++) {
      const x = turn[3 * i] * reference[3 * v] + turn[3 * i + 1] * reference[3 * v + 1] + turn[3 * i + 2] * reference[3 * v + 2];
      positions[3 * v + i] = x;
      centre[i] += (nodes.mass[v] * x) / model.massT;
    }
    lowest = Math.min(lowest, positions[3 * v + 2] - nodes.radius[v]);
  }
  const [sx, sy, sz] = spin;
  for (let v = 0, i = 0, j = 0; v < nodes.count; v++, i += 3, j += NODE_NUMBERS) {
    const x = positions[i] - centre[0];
    const y = positions[i + 1] - centre[1];
    const z = positions[i + 2] - centre[2];
    rates[j] = velocity[0] + sy * z - sz * y;
    rates[j + 1] = velocity[1] + sz * x - sx * z;
    rates[j + 2] = velocity[2] + sx * y - sy * x;
    rates.set(spin, j + 3);
    positions[i + 2] -= lowest;
  }
  lattice.settle();
  return { model, lattice, group, stiffness, stepS, gravityMmS2: GRAVITY_MM_S2, friction };
}
