/** Numbers a strut keeps: e2 (3), e3 (3), L, L / 30, kAxial, kTwist, and the upper triangle of the bending matrix by rows (10). */
export const STRUT_NUMBERS = 20;
/** Numbers of a node's load: force (3), moment (3). */
export const LOAD_NUMBERS = 6;
/** Deformations of a strut: stretch, phi0_2, phi0_3, phi1_2, phi1_3, twist. */
export const DEFORMATIONS = 6;

/** asin(S) / S = 1 + z / 6 + A2 z^2 + .. + A5 z^5 with z = S^2: least squares on S <= 0.6 (37 degrees), error 1.6e-7. */
export const [A1, A2, A3, A4, A5] = [1 / 6, 0.07491817, 0.04636554, 0.01869832, 0.05209661];

/** The struts of a lattice as flat arrays, in the order in which they are gone through. */
export interface Struts {
  readonly count: number;
  /** Nodes of the two ends, 2 each. */
  readonly ends: Int32Array;
  /** STRUT_NUMBERS each; mm, N/mm, N mm/rad; stiffness at the long-term modulus. */
  readonly numbers: Float64Array;
}

/** The branches as their recursion over one fixed step needs them, see `recursionOf`. */
export interface Recursion {
  readonly count: number;
  /** Share of a change of q within the step that a branch still holds at its end. */
  readonly hold: Float64Array;
  /** 1 + sum of ratio * hold: the stiffness that a step meets. */
  readonly present: number;
  /** What a branch keeps of its memory over a step, and what it takes from the present deformation. */
  readonly keep: Float64Array;
  readonly take: Float64Array;
}

/**
 * Adds the forces and moments (N, N mm; about the nodes, in space) with which struts act on their nodes to `loads`, and moves the branches' memory on
 * by one step. They are the exact gradient of E = 1/2 q K q, K the natural stiffness, in the deformations q = (u, phi0, phi1, tau): with the chord d of
 * length l and direction e, and the sections' axes t2 = R e2, t3 = R e3 at each end (dot and cross products only, so rigid motion changes nothing),
 *   phi = f(S) (e.t3, -e.t2), f = asin(S)/S, S^2 = (e.t2)^2 + (e.t3)^2;   tau = 2 atan(tan(tau/2)), the twist of swing and twist (of t1 onto t1');
 *   u = l - L + L/30 (2 phi0^2 - phi0.phi1 + 2 phi1^2), the last the shortening by the bow of a cubic (Crisfield 1990 uses the same).
 * Branches: q is replaced by q + sum of ratio w, w' = q' - w / time. With y = q - w and q linear in the step, y = keep y + (fresh shares of both q): the
 * memory kept per branch and deformation is ratio (keep y + share q), so one multiplication and one addition move it on, exactly.
 * positions 3 and rotations 9 (row-major, from the reference) per node; memory DEFORMATIONS * branches per strut.
 */
export function strutForces(
  { count, ends, numbers }: Struts,
  { count: branches, present, keep, take }: Recursion,
  positions: Float64Array,
  rotations: Float64Array,
  memory: Float64Array,
  loads: Float64Array,
): void {
  for (let s = 0, k = 0, m = 0; s < count; s++, k += STRUT_NUMBERS) {
    const a = ends[2 * s];
    const b = ends[2 * s + 1];
    // The chord.
    const dx = positions[3 * b] - positions[3 * a];
    const dy = positions[3 * b + 1] - positions[3 * a + 1];
    const dz = positions[3 * b + 2] - positions[3 * a + 2];
    const l = Math.sqrt(dx * dx + dy * dy + dz * dz);
    const perLength = 1 / l;
    const ex = dx * perLength;
    const ey = dy * perLength;
    const ez = dz * perLength;
    // The sections' axes: p, q are t2, t3 of end 0, v, w those of end 1.
    const e2x = numbers[k];
    const e2y = numbers[k + 1];
    const e2z = numbers[k + 2];
    const e3x = numbers[k + 3];
    const e3y = numbers[k + 4];
    const e3z = numbers[k + 5];
    let r = 9 * a;
    let r0 = rotations[r];
    let r1 = rotations[r + 1];
    let r2 = rotations[r + 2];
    const px = r0 * e2x + r1 * e2y + r2 * e2z;
    const qx = r0 * e3x + r1 * e3y + r2 * e3z;
    r0 = rotations[r + 3];
    r1 = rotations[r + 4];
    r2 = rotations[r + 5];
    const py = r0 * e2x + r1 * e2y + r2 * e2z;
    const qy = r0 * e3x + r1 * e3y + r2 * e3z;
    r0 = rotations[r + 6];
    r1 = rotations[r + 7];
    r2 = rotations[r + 8];
    const pz = r0 * e2x + r1 * e2y + r2 * e2z;
    const qz = r0 * e3x + r1 * e3y + r2 * e3z;
    r = 9 * b;
    r0 = rotations[r];
    r1 = rotations[r + 1];
    r2 = rotations[r + 2];
    const vx = r0 * e2x + r1 * e2y + r2 * e2z;
    const wx = r0 * e3x + r1 * e3y + r2 * e3z;
    r0 = rotations[r + 3];
    r1 = rotations[r + 4];
    r2 = rotations[r + 5];
    const vy = r0 * e2x + r1 * e2y + r2 * e2z;
    const wy = r0 * e3x + r1 * e3y + r2 * e3z;
    r0 = rotations[r + 6];
    r1 = rotations[r + 7];
    r2 = rotations[r + 8];
    const vz = r0 * e2x + r1 * e2y + r2 * e2z;
    const wz = r0 * e3x + r1 * e3y + r2 * e3z;
    // Rotations of the sections relative to the chord.
    const s02 = ex * px + ey * py + ez * pz;
    const s03 = ex * qx + ey * qy + ez * qz;
    const s12 = ex * vx + ey * vy + ez * vz;
    const s13 = ex * wx + ey * wy + ez * wz;
    const z0 = s02 * s02 + s03 * s03;
    const z1 = s12 * s12 + s13 * s13;
    const f0 = 1 + z0 * (A1 + z0 * (A2 + z0 * (A3 + z0 * (A4 + z0 * A5))));
    const f1 = 1 + z1 * (A1 + z1 * (A2 + z1 * (A3 + z1 * (A4 + z1 * A5))));
    const g0 = 2 * A1 + z0 * (4 * A2 + z0 * (6 * A3 + z0 * (8 * A4 + z0 * (10 * A5))));
    const g1 = 2 * A1 + z1 * (4 * A2 + z1 * (6 * A3 + z1 * (8 * A4 + z1 * (10 * A5))));
    const phi02 = f0 * s03;
    const phi03 = -f0 * s02;
    const phi12 = f1 * s13;
    const phi13 = -f1 * s12;
    // Twist: t1 = t2 x t3 of both ends; tan(tau / 2) = (t3.t2' - t2.t3') / (t2.t2' + t3.t3' + 1 + t1.t1').
    const ax = py * qz - pz * qy;
    const ay = pz * qx - px * qz;
    const az = px * qy - py * qx;
    const bx = vy * wz - vz * wy;
    const by = vz * wx - vx * wz;
    const bz = vx * wy - vy * wx;
    const alike = 1 + ax * bx + ay * by + az * bz;
    const half =
      (qx * vx + qy * vy + qz * vz - px * wx - py * wy - pz * wz) / (px * vx + py * vy + pz * vz + qx * wx + qy * wy + qz * wz + alike);
    const h2 = half * half;
    const tau = 2 * half * (1 - h2 * (1 / 3 - h2 * (1 / 5 - h2 * (1 / 7 - h2 * (1 / 9)))));
    // Stretch, with what the bow takes from the chord.
    const bow = numbers[k + 7];
    const u =
      l - numbers[k + 6] + bow * (2 * (phi02 * phi02 + phi03 * phi03 + phi12 * phi12 + phi13 * phi13) - phi02 * phi12 - phi03 * phi13);
    // Effective deformations: the present ones less what the branches have relaxed.
    let d0 = present * u;
    let d1 = present * phi02;
    let d2 = present * phi03;
    let d3 = present * phi12;
    let d4 = present * phi13;
    let d5 = present * tau;
    for (let n = 0; n < branches; n++, m += DEFORMATIONS) {
      const kept = keep[n];
      const taken = take[n];
      const m0 = memory[m];
      const m1 = memory[m + 1];
      const m2 = memory[m + 2];
      const m3 = memory[m + 3];
      const m4 = memory[m + 4];
      const m5 = memory[m + 5];
      d0 -= m0;
      d1 -= m1;
      d2 -= m2;
      d3 -= m3;
      d4 -= m4;
      d5 -= m5;
      memory[m] = kept * m0 + taken * u;
      memory[m + 1] = kept * m1 + taken * phi02;
      memory[m + 2] = kept * m2 + taken * phi03;
      memory[m + 3] = kept * m3 + taken * phi12;
      memory[m + 4] = kept * m4 + taken * phi13;
      memory[m + 5] = kept * m5 + taken * tau;
    }
    // Generalised forces.
    const axial = numbers[k + 8] * d0;
    const b12 = numbers[k + 11];
    const b13 = numbers[k + 12];
    const b14 = numbers[k + 13];
    const b23 = numbers[k + 15];
    const b24 = numbers[k + 16];
    const b34 = numbers[k + 18];
    const n30 = bow * axial;
    const m02 = numbers[k + 10] * d1 + b12 * d2 + b13 * d3 + b14 * d4 + n30 * (4 * phi02 - phi12);
    const m03 = b12 * d1 + numbers[k + 14] * d2 + b23 * d3 + b24 * d4 + n30 * (4 * phi03 - phi13);
    const m12 = b13 * d1 + b23 * d2 + numbers[k + 17] * d3 + b34 * d4 + n30 * (4 * phi12 - phi02);
    const m13 = b14 * d1 + b24 * d2 + b34 * d3 + numbers[k + 19] * d4 + n30 * (4 * phi13 - phi03);
    // The derivative of the cut series is 1 + h2^5 times that of tau.
    const h4 = h2 * h2;
    const torque = (numbers[k + 9] * d5 * (1 + h4 * h4 * h2)) / alike;
    // In terms of the sines e.t2 and e.t3.
    const c0 = g0 * (m02 * s03 - m03 * s02);
    const c1 = g1 * (m12 * s13 - m13 * s12);
    const y02 = c0 * s02 - f0 * m03;
    const y03 = c0 * s03 + f0 * m02;
    const y12 = c1 * s12 - f1 * m13;
    const y13 = c1 * s13 + f1 * m12;
    const hax = y02 * px + y03 * qx;
    const hay = y02 * py + y03 * qy;
    const haz = y02 * pz + y03 * qz;
    const hbx = y12 * vx + y13 * wx;
    const hby = y12 * vy + y13 * wy;
    const hbz = y12 * vz + y13 * wz;
    // Force along the chord and across it; moments h x e, and the twist's about t1 + t1'.
    const along = axial - perLength * (y02 * s02 + y03 * s03 + y12 * s12 + y13 * s13);
    const fx = along * ex + perLength * (hax + hbx);
    const fy = along * ey + perLength * (hay + hby);
    const fz = along * ez + perLength * (haz + hbz);
    const tx = torque * (ax + bx);
    const ty = torque * (ay + by);
    const tz = torque * (az + bz);
    let at = LOAD_NUMBERS * a;
    loads[at] += fx;
    loads[at + 1] += fy;
    loads[at + 2] += fz;
    loads[at + 3] += tx - (hay * ez - haz * ey);
    loads[at + 4] += ty - (haz * ex - hax * ez);
    loads[at + 5] += tz - (hax * ey - hay * ex);
    at = LOAD_NUMBERS * b;
    loads[at] -= fx;
    loads[at + 1] -= fy;
    loads[at + 2] -= fz;
    loads[at + 3] -= tx + (hby * ez - hbz * ey);
    loads[at + 4] -= ty + (hbz * ex - hbx * ez);
    loads[at + 5] -= tz + (hbx * ey - hby * ex);
  }
}
