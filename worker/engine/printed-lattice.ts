import { type EngineInput, evaluate } from './evaluate.ts';
import { latticeOf, tilingOf } from './laid-out.ts';
import { grown, type Lattice, type StrutGraph } from './lattice/index.ts';
import type { EngineError } from './mechanics.ts';

/** The lattice that an evaluation's figures are of, and the graph as designed, with the mark that it carries, which is printed. */
export interface PrintedLattice {
  readonly lattice: Lattice;
  readonly marked: StrutGraph;
}

/** Lays a lattice out again, without anything else that an evaluation computes; its mark, where it carries one, takes a second more. */
export function printedLattice(input: EngineInput): ({ kind: 'done' } & PrintedLattice) | { kind: 'failed'; error: EngineError } {
  const { tiling } = tilingOf(input.parameterSet);
  const laid = latticeOf(input.parameterSet, tiling);
  if (laid.kind === 'fault') return { kind: 'failed', error: laid.fault };
  const { strutGrowthMm } = input.material;
  const lattice = strutGrowthMm ? grown(laid.lattice, strutGrowthMm, tiling.symmetry.rotations) : laid.lattice;
  const mark = input.build?.mark;
  if (mark === undefined) return { kind: 'done', lattice, marked: laid.lattice.graph };
  const evaluated = evaluate({ ...input, reference: null, tests: { depth: 'geometry' }, build: { mark } });
  if (evaluated.kind === 'done') return { kind: 'done', lattice, marked: evaluated.marked };
  return { kind: 'failed', error: evaluated.kind === 'failed' ? evaluated.error : { code: 'cancelled', message: 'cancelled' } };
}
