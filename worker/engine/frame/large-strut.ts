import { chordAngle } from './chord-angle.ts';

/** What large rotation needs of a frame: nodes of the two ends of each strut, lengths, triads (e1, e2, e3 as rows, 9 each), natural stiffness (12 each). */
export interface StrutsAtRest {
  readonly graph: { readonly ends: Int32Array };
  readonly lengthMm: Float64Array;
  readonly triads: Float64Array;
  readonly natural: Float64Array;
}

/** Where the nodes are: places (mm, 3 per node), and rotation matrices from the reference (row-major, 9 per node). */
export interface Placement {
  readonly positions: Float64Array;
  readonly rotations: Float64Array;
}

/** Share of its length that a cubic bow takes from a strut's chord, per 2 phi0^2 - phi0.phi1 + 2 phi1^2. */
export const BOW = 1 / 30;

// Scratch of the strut last looked at. t: axes t1, t2, t3 of both ends; along: their components along the chord; curve: f, f', f'' of both ends;
// moment: derivative of the energy by phi; pull: derivative by the chord's direction as it acts through each end.
export const e = new Float64Array(3);
export const t = new Float64Array(18);
export const along = new Float64Array(6);
export const curve = new Float64Array(6);
export const q = new Float64Array(6);
export const moment = new Float64Array(4);
export const pull = new Float64Array(6);
const twist = new Float64Array(3);
const angle = { f: 0, slope: 0, bend: 0 };
/** Its chord's length. */
export let chord = 0;

/**
 * Deformations of strut s into `out` (6): stretch (mm, with the bow's share), rotations of both end sections about their e2 and e3 relative to the
 * chord, twist (rad). With the chord's direction e and a section's axes t = R (e1, e2, e3), a the angle between e and t1:
 *   phi = a / sin(a) (e.t3, -e.t2),   stretch = l - L + L/30 (2 phi0^2 - phi0.phi1 + 2 phi1^2),
 *   tau = atan2(t3.t2' - t2.t3', t2.t2' + t3.t3'), the twist of swing and twist.
 * Dot products only, so a rigid motion changes nothing.
 */
export function strutDeformations(frame: StrutsAtRest, s: number, placement: Placement, out: Float64Array): void {
  look(frame, s, placement);
  out.set(q);
}

/** Elastic energy of strut s, N mm: 1/2 kAxial stretch^2 + 1/2 phi B phi + 1/2 kTwist tau^2. */
export function strutEnergy(frame: StrutsAtRest, s: number, placement: Placement): number {
  look(frame, s, placement);
  return energy(frame.natural, 12 * s);
}

/**
 * Energy of strut s, and its exact gradient into `out` (12): by the place of end 0, by a spin of end 0 (delta t = w x t), then the same of end 1;
 * N and N mm. Its negative is what the strut does to its nodes.
 */
export function strutGradient(frame: StrutsAtRest, s: number, placement: Placement, out: Float64Array): number {
  look(frame, s, placement);
  differentiate(frame, s);
  const force = frame.natural[12 * s] * q[0];
  const [a, b] = [dotE(pull, 0), dotE(pull, 3)];
  for (let i = 0; i < 3; i++) {
    const f = force * e[i] + (pull[i] + pull[3 + i] - (a + b) * e[i]) / chord;
    out[i] = -f;
    out[6 + i] = f;
  }
  crossE(pull, 0, out, 3);
  crossE(pull, 3, out, 9);
  for (let i = 0; i < 3; i++) {
    out[3 + i] -= twist[i];
    out[9 + i] += twist[i];
  }
  return energy(frame.natural, 12 * s);
}

/** Looks at strut s: fills e, t, along, curve and q. */
function look({ graph, lengthMm, triads }: StrutsAtRest, s: number, { positions, rotations }: Placement): void {
  const [a, b] = [graph.ends[2 * s], graph.ends[2 * s + 1]];
  for (let i = 0; i < 3; i++) e[i] = positions[3 * b + i] - positions[3 * a + i];
  chord = Math.sqrt(e[0] * e[0] + e[1] * e[1] + e[2] * e[2]);
  for (let i = 0; i < 3; i++) e[i] /= chord;
  for (let end = 0; end < 2; end++) {
    const R = 9 * (end === 0 ? a : b);
    for (let axis = 0; axis < 3; axis++) {
      const from = 9 * s + 3 * axis;
      const to = 9 * end + 3 * axis;
      for (let i = 0; i < 3; i++) {
        const row = R + 3 * i;
        t[to + i] = rotations[row] * triads[from] + rotations[row + 1] * triads[from + 1] + rotations[row + 2] * triads[from + 2];
      }
      along[3 * end + axis] = dotE(t, to);
    }
    chordAngle(along[3 * end], along[3 * end + 1], along[3 * end + 2], angle);
    curve[3 * end] = angle.f;
    curve[3 * end + 1] = angle.slope;
    curve[3 * end + 2] = angle.bend;
    q[1 + 2 * end] = angle.f * along[3 * end + 2];
    q[2 + 2 * end] = -angle.f * along[3 * end + 1];
  }
  q[5] = Math.atan2(dot(t, 6, 12) - dot(t, 3, 15), dot(t, 3, 12) + dot(t, 6, 15));
  const bow = 2 * (q[1] * q[1] + q[2] * q[2] + q[3] * q[3] + q[4] * q[4]) - q[1] * q[3] - q[2] * q[4];
  q[0] = chord - lengthMm[s] + BOW * lengthMm[s] * bow;
}

function energy(K: Float64Array, k: number): number {
  const bending =
    q[1] * (K[k + 2] * q[1] + 2 * (K[k + 3] * q[2] + K[k + 4] * q[3] + K[k + 5] * q[4])) +
    q[2] * (K[k + 6] * q[2] + 2 * (K[k + 7] * q[3] + K[k + 8] * q[4])) +
    q[3] * (K[k + 9] * q[3] + 2 * K[k + 10] * q[4]) +
    q[4] * K[k + 11] * q[4];
  return (K[k] * q[0] * q[0] + bending + K[k + 1] * q[5] * q[5]) / 2;
}

/** Fills moment, pull and twist. */
function differentiate({ natural: K, lengthMm }: StrutsAtRest, s: number): void {
  const k = 12 * s;
  const bowed = BOW * lengthMm[s] * K[k] * q[0];
  moment[0] = K[k + 2] * q[1] + K[k + 3] * q[2] + K[k + 4] * q[3] + K[k + 5] * q[4] + bowed * (4 * q[1] - q[3]);
  moment[1] = K[k + 3] * q[1] + K[k + 6] * q[2] + K[k + 7] * q[3] + K[k + 8] * q[4] + bowed * (4 * q[2] - q[4]);
  moment[2] = K[k + 4] * q[1] + K[k + 7] * q[2] + K[k + 9] * q[3] + K[k + 10] * q[4] + bowed * (4 * q[3] - q[1]);
  moment[3] = K[k + 5] * q[1] + K[k + 8] * q[2] + K[k + 10] * q[3] + K[k + 11] * q[4] + bowed * (4 * q[4] - q[2]);
  for (let end = 0; end < 2; end++) {
    const [m2, m3] = [moment[2 * end], moment[2 * end + 1]];
    const f = curve[3 * end];
    const tilt = curve[3 * end + 1] * (m2 * along[3 * end + 2] - m3 * along[3 * end + 1]);
    const at = 9 * end;
    for (let i = 0; i < 3; i++) pull[3 * end + i] = f * (m2 * t[at + 6 + i] - m3 * t[at + 3 + i]) + tilt * t[at + i];
  }
  // The twist turns about t1 + t1'.
  const torque = (K[k + 1] * q[5]) / (1 + dot(t, 0, 9));
  for (let i = 0; i < 3; i++) twist[i] = torque * (t[i] + t[9 + i]);
}

export const dot = (x: Float64Array, i: number, j: number): number => x[i] * x[j] + x[i + 1] * x[j + 1] + x[i + 2] * x[j + 2];
export const dotE = (x: Float64Array, i: number): number => x[i] * e[0] + x[i + 1] * e[1] + x[i + 2] * e[2];

/** out = x x e. */
export function crossE(x: Float64Array, i: number, out: Float64Array, to: number): void {
  out[to] = x[i + 1] * e[2] - x[i + 2] * e[1];
  out[to + 1] = x[i + 2] * e[0] - x[i] * e[2];
  out[to + 2] = x[i] * e[1] - x[i + 1] * e[0];
}
