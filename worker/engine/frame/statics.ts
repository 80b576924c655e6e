import { analyse, factorise, multiply, type NotPositiveDefinite, refine, type SparseMatrix, solve, submatrix } from '../sparse/index.ts';
import { stiffnessMatrix } from './assembly.ts';
import type { StrutFrame } from './strut-frame.ts';

/** Supports and loads over the unknowns of a frame. */
export interface LoadCase {
  /** Unknowns whose displacement is given, with it: mm or rad. */
  readonly held: ReadonlyMap<number, number>;
  /** Forces and moments on every unknown: N, N mm. */
  readonly load: Float64Array;
}

export interface Displaced {
  readonly kind: 'displaced';
  /** Displacement of every unknown, mm and rad. */
  readonly displacement: Float64Array;
  /** Forces and moments that the supports add at held unknowns, 0 elsewhere; N, N mm. */
  readonly reaction: Float64Array;
  /** Largest residual force over the largest load. */
  readonly residual: number;
}

/** Small displacements of a frame under one load case. Not positive definite: parts of it can move freely; the unknown that tells is named. */
export function linearStatics(
  frame: StrutFrame,
  loads: LoadCase,
  stiffness: SparseMatrix = stiffnessMatrix(frame),
): Displaced | NotPositiveDefinite {
  const free = Int32Array.from(Array.from({ length: stiffness.n }, (_, k) => k).filter((k) => !loads.held.has(k)));
  const displacement = new Float64Array(stiffness.n);
  for (const [k, value] of loads.held) displacement[k] = value;
  const forces = new Float64Array(stiffness.n);
  multiply(stiffness, displacement, forces);
  const reduced = submatrix(stiffness, free);
  const factor = factorise(analyse(reduced), reduced);
  if (factor.kind !== 'factor') return { ...factor, column: free[factor.column] };
  const load = Float64Array.from(free, (k) => loads.load[k] - forces[k]);
  const x = new Float64Array(free.length);
  solve(factor, load, x);
  const residual = refine(factor, reduced, load, x);
  for (let k = 0; k < free.length; k++) displacement[free[k]] = x[k];
  multiply(stiffness, displacement, forces);
  const reaction = new Float64Array(stiffness.n);
  for (const k of loads.held.keys()) reaction[k] = forces[k] - loads.load[k];
  return { kind: 'displaced', displacement, reaction, residual };
}
