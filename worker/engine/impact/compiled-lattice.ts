import { compiled, laneMemory } from '../lanes/index.ts';
import { ACCOUNT_NUMBERS, accountProgram, FIBRE_NUMBERS } from './account-program.ts';
import { makeArena, nodesOfPairs, sideBySide, standIn } from './lane-lists.ts';
import { driftProgram, kickProgram } from './node-program.ts';
import { type Motion, NODE_NUMBERS, type Nodes } from './nodes.ts';
import { recursionOf } from './recursion.ts';
import type { Branch } from './relaxation.ts';
import { strutForcesProgram } from './strut-program.ts';
import { DEFORMATIONS, STRUT_NUMBERS } from './strut-shape.ts';
import type { Struts } from './struts.ts';

/** What the struts hold and lose at one instant. */
export interface StrutAccount {
  /** 1/2 q K q over all struts, mJ. */
  strain: number;
  /** Stored in the springs of the branches, mJ. */
  branches: number;
  /** Lost in their dashpots, mJ/s. */
  loss: number;
  /** Largest fibre strain. */
  peakStrain: number;
  /** Largest sine by which a section is turned against its chord; 1 where one has turned right over. */
  sine: number;
}

/** A lattice's programs with the memory they work in; the lists are views of it and stay where they are. */
export interface CompiledLattice {
  readonly motion: Motion;
  /** Back to struts that have been at rest for long, once the nodes are placed. */
  settle(): void;
  /** Sets the loads to the struts' forces, on top of weight. */
  load(): void;
  /** To be asked before `load` at the same positions. */
  account(into: StrutAccount): void;
  /** Rates by the loads over one step, then positions and attitudes by the rates. */
  kick(): void;
  drift(): void;
  /** Largest strain so far at face `2 * strut + end`. */
  strainAt(face: number): number;
  /** Largest fibre strain of each strut at this instant; to be asked before `load`, as `account`. */
  strains(): Float64Array;
}

/** What is compiled; `fibres`: FIBRE_NUMBERS per strut. */
export interface LatticeParts {
  readonly nodes: Nodes;
  readonly struts: Struts;
  readonly fibres: Float64Array;
  readonly branches: readonly Branch[];
  readonly stepS: number;
  /** Along -z. */
  readonly gravityMmS2: number;
}

/** Compiles the programs of one lattice for one step. */
export function compileLattice({ nodes, struts, fibres, branches, stepS, gravityMmS2 }: LatticeParts): CompiledLattice {
  const pairs = Math.ceil(struts.count / 2);
  const nodePairs = Math.ceil(nodes.count / 2);
  // Nodes that struts end at, some of which may not move by themselves; two more for the stand-in strut, and one where they are odd in number.
  const ends = struts.nodeCount;
  const places = ends + 3;
  const arena = makeArena();
  const at = {
    numbers: arena.take(2 * pairs * STRUT_NUMBERS),
    ends: arena.take(2 * pairs),
    memory: arena.take(2 * pairs * DEFORMATIONS * branches.length),
    recursion: arena.take(1 + 2 * branches.length),
    factors: arena.take(4 * branches.length),
    fibres: arena.take(2 * pairs * FIBRE_NUMBERS),
    faces: arena.take(4 * pairs),
    sums: arena.take(2 * ACCOUNT_NUMBERS),
    positions: arena.take(3 * places),
    attitudes: arena.take(4 * places),
    rotations: arena.take(9 * places),
    rates: arena.take(NODE_NUMBERS * places),
    loads: arena.take(NODE_NUMBERS * places),
    shares: arena.take(NODE_NUMBERS * places),
    step: arena.take(1),
  };
  const memory = laneMemory(arena.bytes());
  const view = (address: number, length: number) => new Float64Array(memory.buffer, address, length);
  const programs = {
    forces: compiled(strutForcesProgram(branches.length), memory),
    account: compiled(accountProgram(branches.length), memory),
    kick: compiled(kickProgram(), memory),
    drift: compiled(driftProgram(), memory),
  };
  sideBySide(struts.numbers, STRUT_NUMBERS, struts.count, view(at.numbers, 2 * pairs * STRUT_NUMBERS));
  sideBySide(fibres, FIBRE_NUMBERS, struts.count, view(at.fibres, 2 * pairs * FIBRE_NUMBERS));
  nodesOfPairs(struts, new Int32Array(memory.buffer, at.ends, 4 * pairs));
  const { present, keep, take, hold } = recursionOf(branches, stepS);
  view(at.recursion, 1 + 2 * branches.length).set([present, ...branches.flatMap((_, b) => [keep[b], take[b]])]);
  view(at.factors, 4 * branches.length).set(branches.flatMap(({ ratio, timeS }, b) => [hold[b], 1 / ratio, ratio / 2, 2 / timeS]));
  view(at.step, 1)[0] = stepS;
  view(at.shares, NODE_NUMBERS * nodes.count).set(perNode(nodes, (v) => [stepS / nodes.mass[v], stepS / nodes.inertia[v]]));
  standIn(struts, view(at.positions, 3 * places), view(at.rotations, 9 * places), view(at.numbers, 2 * pairs * STRUT_NUMBERS));

  const weight = new Float64Array(NODE_NUMBERS * ends);
  nodes.mass.forEach((mass, v) => (weight[NODE_NUMBERS * v + 2] = -mass * gravityMmS2));
  const loads = view(at.loads, NODE_NUMBERS * ends);
  const remembered = view(at.memory, 2 * pairs * DEFORMATIONS * branches.length);
  const faces = view(at.faces, 4 * pairs);
  const sums = view(at.sums, 2 * ACCOUNT_NUMBERS);
  const accountFor = () =>
    programs.account(at.numbers, at.ends, at.memory, at.positions, at.rotations, at.factors, at.fibres, at.faces, at.sums, pairs);
  const strainAt = (face: number) => faces[4 * (face >> 2) + 2 * (face & 1) + ((face >> 1) & 1)];
  return {
    motion: {
      positions: view(at.positions, 3 * ends),
      attitudes: view(at.attitudes, 4 * nodes.count),
      rotations: view(at.rotations, 9 * ends),
      rates: view(at.rates, NODE_NUMBERS * nodes.count),
      loads,
    },
    settle: () => {
      remembered.fill(0);
      faces.fill(0);
    },
    load: () => {
      loads.set(weight);
      programs.forces(at.numbers, at.ends, at.memory, at.positions, at.rotations, at.loads, at.recursion, pairs);
    },
    account: (into) => {
      accountFor();
      into.strain = sums[0] + sums[1];
      into.branches = sums[2] + sums[3];
      into.loss = sums[4] + sums[5];
      into.peakStrain = Math.max(sums[6], sums[7]);
      into.sine = Math.max(sums[10], sums[11]) > 0 ? 1 : Math.sqrt(Math.max(sums[8], sums[9]));
    },
    kick: () => programs.kick(at.rates, at.loads, at.shares, (NODE_NUMBERS / 2) * nodes.count),
    drift: () => programs.drift(at.positions, at.attitudes, at.rotations, at.rates, at.step, nodePairs),
    strainAt,
    strains: () => {
      const soFar = faces.slice();
      faces.fill(0);
      accountFor();
      const now = Float64Array.from({ length: struts.count }, (_, s) => Math.max(strainAt(2 * s), strainAt(2 * s + 1)));
      faces.set(soFar);
      return now;
    },
  };
}

/** Three times one number, three times another for each node. */
function perNode({ count }: Nodes, values: (v: number) => readonly [number, number]): Float64Array {
  const numbers = new Float64Array(NODE_NUMBERS * count);
  for (let v = 0; v < count; v++) for (let k = 0; k < NODE_NUMBERS; k++) numbers[NODE_NUMBERS * v + k] = values(v)[k < 3 ? 0 : 1];
  return numbers;
}
