import {
  analyse,
  blockLanczos,
  factorise,
  multiply,
  type NotConverged,
  type NotPositiveDefinite,
  solve,
  submatrix,
} from '../sparse/index.ts';
import { assemble, stiffnessMatrix } from './assembly.ts';
import { strutDeformation } from './section-forces.ts';
import { type LoadCase, linearStatics } from './statics.ts';
import type { StrutFrame } from './strut-frame.ts';
import { NATURAL } from './strut-frame.ts';
import { strutGeometric } from './strut-geometric.ts';

export interface Buckling {
  readonly kind: 'buckling';
  /** The load case times this makes the frame buckle: the smallest positive factor. Null: it never does, by its linear prediction. */
  readonly factor: number | null;
  /** Displacement of every unknown in the buckling shape, largest entry 1; null with the factor. */
  readonly shape: Float64Array | null;
}

const SEED = 1;
/** Share of the largest axial force below which a compressive one is rounding. */
const ROUNDING = 1e-9;
const TOLERANCE = 1e-6;

/**
 * Linear buckling of a frame: the smallest positive factor f with K x + f Kg x = 0, Kg the geometric stiffness of the axial forces that the load
 * case (forces only; held unknowns at zero) causes. Loads keep their direction. Without a compressed strut there is no such factor.
 */
export function buckling(frame: StrutFrame, loads: LoadCase, poisson: number): Buckling | NotPositiveDefinite | NotConverged {
  const stiffness = stiffnessMatrix(frame);
  const rest = linearStatics(frame, loads, stiffness);
  if (rest.kind !== 'displaced') return rest;
  const rows = new Float64Array(72);
  const q = new Float64Array(6);
  const softening = assemble(frame, (s, out) => {
    strutDeformation(frame, s, rest.displacement, q);
    strutGeometric(frame, s, poisson, rows, out);
    for (let i = 0; i < out.length; i++) out[i] *= -frame.natural[NATURAL * s] * q[0];
  });
  if (!(mostCompressed(frame, rest.displacement) > ROUNDING)) return { kind: 'buckling', factor: null, shape: null };
  const free = Int32Array.from(Array.from({ length: stiffness.n }, (_, k) => k).filter((k) => !loads.held.has(k)));
  const [K, soft] = [submatrix(stiffness, free), submatrix(softening, free)];
  const factor = factorise(analyse(K), K);
  if (factor.kind !== 'factor') return { ...factor, column: free[factor.column] };
  const loaded = new Float64Array(free.length);
  const apply = (vector: Float64Array, _: Float64Array, image: Float64Array) => {
    multiply(soft, vector, loaded);
    solve(factor, loaded, image);
  };
  const found = blockLanczos({ inner: K, apply }, { count: 1, seed: SEED, tolerance: TOLERANCE });
  if (found.kind !== 'eigenpairs') return found;
  if (!(found.values[0] > 0)) return { kind: 'buckling', factor: null, shape: null };
  return { kind: 'buckling', factor: 1 / found.values[0], shape: spread(found.vectors[0], free, stiffness.n) };
}

/** The largest compressive force over the largest axial force of either sign. */
function mostCompressed(frame: StrutFrame, displacement: Float64Array): number {
  const q = new Float64Array(6);
  let [lowest, largest] = [0, 0];
  for (let s = 0; s < frame.graph.strutCount; s++) {
    strutDeformation(frame, s, displacement, q);
    const force = frame.natural[NATURAL * s] * q[0];
    lowest = Math.min(lowest, force);
    largest = Math.max(largest, Math.abs(force));
  }
  return largest === 0 ? 0 : -lowest / largest;
}

/** A vector over the free unknowns, over all of them, scaled to a largest entry of 1. */
function spread(vector: Float64Array, free: Int32Array, n: number): Float64Array {
  const largest = vector.reduce((max, each) => (Math.abs(each) > Math.abs(max) ? each : max), 0);
  const shape = new Float64Array(n);
  for (let k = 0; k < free.length; k++) shape[free[k]] = vector[k] / largest;
  return shape;
}
