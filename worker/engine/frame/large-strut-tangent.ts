import {
  along,
  BOW,
  chord,
  crossE,
  curve,
  dot,
  dotE,
  e,
  moment,
  type Placement,
  pull,
  q,
  type StrutsAtRest,
  strutGradient,
  t,
} from './large-strut.ts';

// Scratch of the tangent in the chord (3), the spin of end 0 (3) and that of end 1 (3).
const J = new Float64Array(54);
const KJ = new Float64Array(54);
const H = new Float64Array(81);
const slopes = new Float64Array(27);
const mixed = new Float64Array(9);

/**
 * As `strutGradient`, and the energy's second derivatives into `tangent` (12 x 12, row-major, order of the gradient) in spins that are rotation vectors,
 * R -> exp(w) R: symmetric everywhere. (The derivative of the gradient itself along spins has this as its symmetric part; the rest, half the moments'
 * cross matrices, sums to none over the struts of a node in equilibrium.)
 */
export function strutTangent(frame: StrutsAtRest, s: number, placement: Placement, out: Float64Array, tangent: Float64Array): number {
  const result = strutGradient(frame, s, placement, out);
  H.fill(0);
  addStretching(frame.natural[12 * s] * q[0]);
  for (let end = 0; end < 2; end++) addSection(end);
  differentiateDeformations(BOW * frame.lengthMm[s]);
  addTwisting(frame.natural[12 * s + 1] * q[5]);
  addMaterial(frame, s);
  expand(tangent);
  return result;
}

/** force times the second derivative of the chord's length. */
function addStretching(force: number): void {
  for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) H[9 * i + j] += (force * ((i === j ? 1 : 0) - e[i] * e[j])) / chord;
}

/** Moments of one end times the second derivatives of phi; the first derivatives of phi into J. */
function addSection(end: number): void {
  const w = 3 + 3 * end;
  const [m2, m3] = [moment[2 * end], moment[2 * end + 1]];
  const [f, slope, bend] = [curve[3 * end], curve[3 * end + 1], curve[3 * end + 2]];
  const [s2, s3] = [along[3 * end + 1], along[3 * end + 2]];
  // First derivatives of the components along the chord: (t - (e.t) e) / l by the chord, t x e by the spin.
  slopes.fill(0);
  for (let axis = 0; axis < 3; axis++) {
    for (let i = 0; i < 3; i++) slopes[9 * axis + i] = (t[9 * end + 3 * axis + i] - along[3 * end + axis] * e[i]) / chord;
    crossE(t, 9 * end + 3 * axis, slopes, 9 * axis + w);
  }
  const row2 = 9 * (1 + 2 * end);
  for (let i = 0; i < 9; i++) {
    J[row2 + i] = f * slopes[18 + i] + slope * s3 * slopes[i];
    J[row2 + 9 + i] = -f * slopes[9 + i] - slope * s2 * slopes[i];
  }
  const tilt = (m2 * s3 - m3 * s2) * bend;
  for (let i = 0; i < 9; i++) mixed[i] = slope * (m2 * slopes[18 + i] - m3 * slopes[9 + i]) + (tilt / 2) * slopes[i];
  for (let i = 0; i < 9; i++) for (let j = 0; j < 9; j++) H[9 * i + j] += slopes[i] * mixed[j] + mixed[i] * slopes[j];
  addPull(3 * end, w);
}

/** Second derivatives of y.e for the vector y = pull that turns with the spin at w. */
function addPull(at: number, w: number): void {
  const ye = dotE(pull, at);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      const one = i === j ? ye : 0;
      const both = pull[at + i] * e[j] + e[i] * pull[at + j];
      H[9 * i + j] += (3 * ye * e[i] * e[j] - both - one) / (chord * chord);
      H[9 * (w + i) + w + j] += both / 2 - one;
    }
  }
  // By spin and chord: y x (1 - e e) / l.
  for (let j = 0; j < 3; j++) {
    for (let i = 0; i < 3; i++) {
      const [k, m] = [(i + 1) % 3, (i + 2) % 3];
      const mixed = (pull[at + k] * ((m === j ? 1 : 0) - e[m] * e[j]) - pull[at + m] * ((k === j ? 1 : 0) - e[k] * e[j])) / chord;
      H[9 * (w + i) + j] += mixed;
      H[9 * j + w + i] += mixed;
    }
  }
}

/** Rows of J for stretch and twist, once those of phi are there. */
function differentiateDeformations(bow: number): void {
  for (let i = 0; i < 9; i++) {
    const direct = i < 3 ? e[i] : 0;
    J[i] =
      direct +
      bow * ((4 * q[1] - q[3]) * J[9 + i] + (4 * q[2] - q[4]) * J[18 + i] + (4 * q[3] - q[1]) * J[27 + i] + (4 * q[4] - q[2]) * J[36 + i]);
  }
  const alike = 1 + dot(t, 0, 9);
  for (let i = 0; i < 3; i++) {
    const n = (t[i] + t[9 + i]) / alike;
    J[45 + i] = 0;
    J[48 + i] = -n;
    J[51 + i] = n;
  }
}

/** Torque times the second derivative of the twist: S = sym(n (t1 x t1')) / (1 + t1.t1') on both spins, [n]x / 2 - S between them. */
function addTwisting(torque: number): void {
  const alike = 1 + dot(t, 0, 9);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      const [ni, nj] = [J[51 + i], J[51 + j]];
      const S = (torque * (ni * across(j) + across(i) * nj)) / (2 * alike);
      const k = 3 - i - j;
      const half = i === j ? 0 : (((j - i + 3) % 3 === 1 ? -1 : 1) * torque * J[51 + k]) / 2;
      H[9 * (3 + i) + 3 + j] += S;
      H[9 * (6 + i) + 6 + j] += S;
      H[9 * (3 + i) + 6 + j] += half - S;
      H[9 * (6 + j) + 3 + i] += half - S;
    }
  }
}

/** Component i of t1 x t1'. */
function across(i: number): number {
  const [j, k] = [(i + 1) % 3, (i + 2) % 3];
  return t[j] * t[9 + k] - t[k] * t[9 + j];
}

/** J' K J, the bow's second derivatives by phi with K. */
function addMaterial({ natural: K, lengthMm }: StrutsAtRest, s: number): void {
  const k = 12 * s;
  const bowed = BOW * lengthMm[s] * K[k] * q[0];
  for (let c = 0; c < 9; c++) {
    const [a2, a3, b2, b3] = [J[9 + c], J[18 + c], J[27 + c], J[36 + c]];
    KJ[c] = K[k] * J[c];
    KJ[9 + c] = (K[k + 2] + 4 * bowed) * a2 + K[k + 3] * a3 + (K[k + 4] - bowed) * b2 + K[k + 5] * b3;
    KJ[18 + c] = K[k + 3] * a2 + (K[k + 6] + 4 * bowed) * a3 + K[k + 7] * b2 + (K[k + 8] - bowed) * b3;
    KJ[27 + c] = (K[k + 4] - bowed) * a2 + K[k + 7] * a3 + (K[k + 9] + 4 * bowed) * b2 + K[k + 10] * b3;
    KJ[36 + c] = K[k + 5] * a2 + (K[k + 8] - bowed) * a3 + K[k + 10] * b2 + (K[k + 11] + 4 * bowed) * b3;
    KJ[45 + c] = K[k + 1] * J[45 + c];
  }
  for (let r = 0; r < 9; r++) {
    for (let c = 0; c <= r; c++) {
      let sum = 0;
      for (let i = 0; i < 54; i += 9) sum += J[i + r] * KJ[i + c];
      H[9 * r + c] += sum;
      if (c < r) H[9 * c + r] += sum;
    }
  }
}

/** Where the rows of (place 0, spin 0, place 1, spin 1) are in (chord, spins), and their signs: the chord is place 1 - place 0. */
const ROW = Int32Array.of(0, 1, 2, 3, 4, 5, 0, 1, 2, 6, 7, 8);
const SIGN = Float64Array.of(-1, -1, -1, 1, 1, 1, 1, 1, 1, 1, 1, 1);

function expand(tangent: Float64Array): void {
  for (let r = 0; r < 12; r++) {
    for (let c = 0; c < 12; c++) tangent[12 * r + c] = SIGN[r] * SIGN[c] * H[9 * ROW[r] + ROW[c]];
  }
}
