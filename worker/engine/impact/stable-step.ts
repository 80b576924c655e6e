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
  const A = [turn0 + across, 0, across, 0, 0, turn0 + across, 0, across, across, 0, turn1 + across, 0, 0, across, 0, turn1 + across];
  const b = numbers.subarray(k + 10, k + 20);
  const B = [b[0], b[1], b[2], b[3], b[1], b[4], b[5], b[6], b[2], b[5], b[7], b[8], b[3], b[6], b[8], b[9]];
  return Math.max(axial, twist, spectralRadius(product(B, A)));
}

/** From above, for a 4 x 4 matrix with no negative eigenvalue: (trace of X^64)^(1/64), at most 4^(1/64) = 1.022 times too large. */
function spectralRadius(x: number[]): number {
  const scale = x[0] + x[5] + x[10] + x[15];
  let power = x.map((each) => each / scale);
  for (let k = 0; k < 6; k++) power = product(power, power);
  return scale * (power[0] + power[5] + power[10] + power[15]) ** (1 / 64);
}

function product(a: readonly number[], b: readonly number[]): number[] {
  const c = new Array<number>(16).fill(0);
  for (let i = 0; i < 16; i++) for (let k = 0; k < 4; k++) c[i] += a[(i & 12) + k] * b[4 * k + (i & 3)];
  return c;
}
