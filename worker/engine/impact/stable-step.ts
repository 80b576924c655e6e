import type { Nodes } from './nodes.ts';
import { STRUT_NUMBERS } from './strut-shape.ts';
import type { Struts } from './struts.ts';

/**
 * A step (s) below the stability limit 2 / w of leapfrog, w the highest angular frequency, bounded from above: every node's mass and inertia are shared
 * among its struts, and w^2 is at most the largest eigenvalue of a strut with its shares (Irons & Treharne 1971: the assembled eigenvalue lies below the
 * largest of the elements'). A node's shares go by how stiff its struts are there. `stiffening`: instantaneous over long-term modulus.
 * `shareForFloor`: part of a node's mass that its contact spring takes; see `contactStiffness`.
 */
export function stableStep(nodes: Nodes, struts: Struts, stiffening: number, shareForFloor: number): number {
  const shares = { mass: new Float64Array(2 * struts.count), inertia: new Float64Array(2 * struts.count) };
  shareOut(nodes, struts, shares);
  let largest = 0;
  for (let s = 0; s < struts.count; s++) largest = Math.max(largest, strutEigenvalue(struts.numbers, s, shares, shareForFloor));
  return 2 / Math.sqrt(stiffening * largest);
}

interface Shares {
  readonly mass: Float64Array;
  readonly inertia: Float64Array;
}

/** Mass by the stiffness of each strut against its end's shift, inertia by that against its end's turn. */
function shareOut({ count, mass, inertia }: Nodes, { count: strutCount, ends, numbers }: Struts, shares: Shares): void {
  const shift = new Float64Array(count);
  const turn = new Float64Array(count);
  const weights = { mass: new Float64Array(2 * strutCount), inertia: new Float64Array(2 * strutCount) };
  for (let end = 0; end < 2 * strutCount; end++) {
    const k = STRUT_NUMBERS * (end >> 1);
    const bending = (end & 1) === 0 ? Math.max(numbers[k + 10], numbers[k + 14]) : Math.max(numbers[k + 17], numbers[k + 19]);
    weights.mass[end] = Math.max(numbers[k + 8], (4 * bending) / numbers[k + 6] ** 2);
    weights.inertia[end] = Math.max(bending, numbers[k + 9]);
    shift[ends[end]] += weights.mass[end];
    turn[ends[end]] += weights.inertia[end];
  }
  for (let end = 0; end < 2 * strutCount; end++) {
    const node = ends[end];
    shares.mass[end] = (mass[node] * weights.mass[end]) / shift[node];
    shares.inertia[end] = (inertia[node] * weights.inertia[end]) / turn[node];
  }
}

/** Largest eigenvalue of one strut with its shares, at most 2.2 % above the true one. */
function strutEigenvalue(numbers: Float64Array, s: number, { mass, inertia }: Shares, shareForFloor: number): number {
  const k = STRUT_NUMBERS * s;
  const perMass = (1 / mass[2 * s] + 1 / mass[2 * s + 1]) / (1 - shareForFloor);
  const [turn0, turn1] = [1 / inertia[2 * s], 1 / inertia[2 * s + 1]];
  const axial = numbers[k + 8] * perMass;
  const twist = numbers[k + 9] * (turn0 + turn1);
  // Bending: the eigenvalues of B A, A the inverse mass seen by (phi0_2, phi0_3, phi1_2, phi1_3).
  const across = perMass / numbers[k + 6] ** 2;
  const ends = [turn0, turn0, turn1, turn1];
  for (let i = 0; i < 4; i++) {
    for (let j = 0; j < 4; j++) {
      A[4 * i + j] = ((i ^ j) & 1) === 0 ? across + (i === j ? ends[i] : 0) : 0;
      B[4 * i + j] = numbers[k + 10 + ENTRY[4 * i + j]];
    }
  }
  multiply(B, A, X);
  return Math.max(axial, twist, spectralRadius());
}

/** Places of a symmetric 4 x 4 matrix in its upper triangle by rows. */
const ENTRY = [0, 1, 2, 3, 1, 4, 5, 6, 2, 5, 7, 8, 3, 6, 8, 9];
/** Scratch of one strut. */
const [A, B, X, Y] = [0, 1, 2, 3].map(() => new Float64Array(16));

/** Of X, from above, if it has no negative eigenvalue: (trace of X^64)^(1/64), at most 4^(1/64) = 1.022 times too large. X is used up. */
function spectralRadius(): number {
  const scale = X[0] + X[5] + X[10] + X[15];
  for (let k = 0; k < 16; k++) X[k] /= scale;
  for (let k = 0; k < 3; k++) {
    multiply(X, X, Y);
    multiply(Y, Y, X);
  }
  return scale * (X[0] + X[5] + X[10] + X[15]) ** (1 / 64);
}

function multiply(a: Float64Array, b: Float64Array, out: Float64Array): void {
  for (let i = 0; i < 16; i += 4)
    for (let j = 0; j < 4; j++) out[i + j] = a[i] * b[j] + a[i + 1] * b[4 + j] + a[i + 2] * b[8 + j] + a[i + 3] * b[12 + j];
}
