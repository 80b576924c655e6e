import { lowestModes, type NotConverged, type NotPositiveDefinite, type SparseMatrix, submatrix } from '../sparse/index.ts';

export interface Vibration {
  readonly kind: 'vibration';
  /** Ascending, Hz, without the rigid motions. */
  readonly frequenciesHz: Float64Array;
  /** Over the unknowns that are not held, one per frequency. */
  readonly shapes: Float64Array[];
  /** Motions at zero frequency that were found and left out: six for one free body. */
  readonly rigidMotions: number;
}

export interface VibrationOptions {
  readonly count: number;
  readonly held?: ReadonlySet<number>;
  /** Called every few milliseconds; may throw. */
  readonly poll?: () => void;
}

/** Motions slower than this share of the first one that deforms are rigid: rounding leaves them at about 1e-6 of it. */
const RIGID = 1e-4;
const SEED = 1;
const TOLERANCE = 1e-7;
const RIGID_MOTIONS = 6;

/**
 * Lowest natural frequencies of a frame with stiffness K (N, mm) and mass M (tonne), free or held. The problem is inverted about a point below zero,
 * a millionth of the mean of K's diagonal over M's: near the first frequencies of a lattice, far above rounding.
 */
export function vibration(
  K: SparseMatrix,
  M: SparseMatrix,
  { count, held, poll }: VibrationOptions,
): Vibration | NotPositiveDefinite | NotConverged {
  const free = Int32Array.from(Array.from({ length: K.n }, (_, k) => k).filter((k) => !held?.has(k)));
  const [stiffness, mass] = held?.size ? [submatrix(K, free), submatrix(M, free)] : [K, M];
  const wanted = Math.min(free.length, count + RIGID_MOTIONS);
  const modes = lowestModes(stiffness, mass, {
    count: wanted,
    shift: -1e-6 * meanRatio(stiffness, mass),
    seed: SEED,
    tolerance: TOLERANCE,
    poll,
  });
  if (modes.kind !== 'modes') return modes;
  const squares = modes.eigenvalues;
  const rigidMotions = rigidCount(squares);
  const kept = Array.from({ length: Math.min(count, squares.length - rigidMotions) }, (_, k) => rigidMotions + k);
  return {
    kind: 'vibration',
    frequenciesHz: Float64Array.from(kept, (k) => Math.sqrt(squares[k]) / (2 * Math.PI)),
    shapes: kept.map((k) => modes.vectors[k]),
    rigidMotions,
  };
}

/** Rigid motions come first, and nothing lies between them and the first frequency: the largest step among the first seven, if it is that large. */
function rigidCount(squares: Float64Array): number {
  for (let k = Math.min(RIGID_MOTIONS, squares.length - 1); k > 0; k--) if (Math.abs(squares[k - 1]) < RIGID ** 2 * squares[k]) return k;
  return 0;
}

function meanRatio(K: SparseMatrix, M: SparseMatrix): number {
  let [stiffness, mass] = [0, 0];
  for (let j = 0; j < K.n; j++) {
    stiffness += K.values[K.colPtr[j]];
    mass += M.values[M.colPtr[j]];
  }
  return stiffness / mass;
}
