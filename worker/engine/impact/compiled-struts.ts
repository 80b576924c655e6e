import { ACCOUNT_NUMBERS, accountProgram, FIBRE_NUMBERS } from './account-program.ts';
import type { Recursion } from './recursion.ts';
import type { Branch } from './relaxation.ts';
import { DEFORMATIONS, LOAD_NUMBERS, STRUT_NUMBERS, strutForcesProgram } from './strut-program.ts';
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

/** The struts' programs with the memory they work in; the lists are views of it and stay where they are. */
export interface CompiledStruts {
  /** mm, 3 per node, and rotation from the reference, 9 per node, row-major: set these. */
  readonly positions: Float64Array;
  readonly rotations: Float64Array;
  /** Force and moment, LOAD_NUMBERS per node, N, N mm: clear these, then `addForces` adds to them. */
  readonly loads: Float64Array;
  /** Back to struts that have been at rest for long. */
  forget(): void;
  addForces(): void;
  /** To be asked before `addForces` at the same positions. */
  account(into: StrutAccount): void;
  /** Largest strain so far at face `2 * strut + end`. */
  strainAt(face: number): number;
}

/** WebAssembly of the JavaScript engine (not of a browser's page): the part that is needed here. */
declare const WebAssembly: {
  readonly Memory: new (pages: { initial: number }) => { readonly buffer: ArrayBuffer };
  readonly Module: new (bytes: Uint8Array) => object;
  readonly Instance: new (module: object, imports: object) => { readonly exports: { readonly f: (...parameters: number[]) => void } };
};

/** Compiles the programs for one lattice, one step and its branches. `fibres`: FIBRE_NUMBERS per strut. */
export function compileStruts(struts: Struts, fibres: Float64Array, branches: readonly Branch[], recursion: Recursion): CompiledStruts {
  const pairs = Math.ceil(struts.count / 2);
  const places = struts.nodeCount + 2;
  const arena = makeArena();
  const at = {
    numbers: arena.take(2 * pairs * STRUT_NUMBERS),
    ends: arena.take(2 * pairs),
    memory: arena.take(2 * pairs * DEFORMATIONS * branches.length),
    positions: arena.take(3 * places),
    rotations: arena.take(9 * places),
    loads: arena.take(LOAD_NUMBERS * places),
    recursion: arena.take(1 + 2 * branches.length),
    factors: arena.take(4 * branches.length),
    fibres: arena.take(2 * pairs * FIBRE_NUMBERS),
    faces: arena.take(4 * pairs),
    sums: arena.take(2 * ACCOUNT_NUMBERS),
  };
  const memory = new WebAssembly.Memory({ initial: arena.pages() });
  const view = (address: number, length: number) => new Float64Array(memory.buffer, address, length);
  const functionOf = (program: Uint8Array) => new WebAssembly.Instance(new WebAssembly.Module(program), { m: { m: memory } }).exports.f;
  const forces = functionOf(strutForcesProgram(branches.length));
  const accounts = functionOf(accountProgram(branches.length));

  sideBySide(struts.numbers, STRUT_NUMBERS, struts.count, view(at.numbers, 2 * pairs * STRUT_NUMBERS));
  sideBySide(fibres, FIBRE_NUMBERS, struts.count, view(at.fibres, 2 * pairs * FIBRE_NUMBERS));
  endsOf(struts, new Int32Array(memory.buffer, at.ends, 4 * pairs));
  view(at.recursion, 1 + 2 * branches.length).set([
    recursion.present,
    ...branches.flatMap((_, b) => [recursion.keep[b], recursion.take[b]]),
  ]);
  const factors = branches.flatMap(({ ratio, timeS }, b) => [recursion.hold[b], 1 / ratio, ratio / 2, 2 / timeS]);
  view(at.factors, factors.length).set(factors);
  const positions = view(at.positions, 3 * places);
  const rotations = view(at.rotations, 9 * places);
  standIn(struts, positions, rotations, view(at.numbers, 2 * pairs * STRUT_NUMBERS));
  const remembered = view(at.memory, 2 * pairs * DEFORMATIONS * branches.length);
  const faces = view(at.faces, 4 * pairs);
  const sums = view(at.sums, 2 * ACCOUNT_NUMBERS);
  return {
    positions: positions.subarray(0, 3 * struts.nodeCount),
    rotations: rotations.subarray(0, 9 * struts.nodeCount),
    loads: view(at.loads, LOAD_NUMBERS * struts.nodeCount),
    forget: () => {
      remembered.fill(0);
      faces.fill(0);
    },
    addForces: () => forces(at.numbers, at.ends, at.memory, at.positions, at.rotations, at.loads, at.recursion, pairs),
    account: (into) => {
      accounts(at.numbers, at.ends, at.memory, at.positions, at.rotations, at.factors, at.fibres, at.faces, at.sums, pairs);
      into.strain = sums[0] + sums[1];
      into.branches = sums[2] + sums[3];
      into.loss = sums[4] + sums[5];
      into.peakStrain = Math.max(sums[6], sums[7]);
      into.sine = Math.max(sums[10], sums[11]) > 0 ? 1 : Math.sqrt(Math.max(sums[8], sums[9]));
    },
    strainAt: (face) => faces[4 * (face >> 2) + 2 * (face & 1) + ((face >> 1) & 1)],
  };
}

/** Hands out places in a memory, each at a multiple of 16 bytes; its size is known when all are taken. */
function makeArena() {
  let bytes = 0;
  return {
    take: (doubles: number): number => {
      const address = bytes;
      bytes += 16 * Math.ceil(doubles / 2);
      return address;
    },
    pages: () => Math.ceil(bytes / 65536),
  };
}

/** `length` numbers per strut, those of struts 2k and 2k + 1 alternating. */
function sideBySide(numbers: Float64Array, length: number, count: number, out: Float64Array): void {
  for (let s = 0; s < count; s++) for (let k = 0; k < length; k++) out[2 * length * (s >> 1) + 2 * k + (s & 1)] = numbers[length * s + k];
}

/** Nodes of end 0 of both struts of a pair, then of end 1. */
function endsOf({ count, nodeCount, ends }: Struts, out: Int32Array): void {
  for (let s = 0; s < 2 * Math.ceil(count / 2); s++) {
    const [first, second] = s < count ? [ends[2 * s], ends[2 * s + 1]] : [nodeCount, nodeCount + 1];
    out[4 * (s >> 1) + (s & 1)] = first;
    out[4 * (s >> 1) + 2 + (s & 1)] = second;
  }
}

/** Two nodes beyond the last carry a strut without stiffness, the other lane of the last one where struts are odd in number. */
function standIn({ count, nodeCount }: Struts, positions: Float64Array, rotations: Float64Array, numbers: Float64Array): void {
  positions[3 * nodeCount + 3] = 1;
  for (const k of [0, 4, 8, 9, 13, 17]) rotations[9 * nodeCount + k] = 1;
  if (count % 2 === 0) return;
  const last = STRUT_NUMBERS * (count - 1) + 1;
  for (const k of [1, 5, 6]) numbers[last + 2 * k] = 1;
}
