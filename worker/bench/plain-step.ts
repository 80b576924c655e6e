import type { ElasticFrame } from '../engine/impact/index.ts';

/**
 * The peer of the impact dynamics: the same step (visco-elastic struts that turn far, lumped nodes, explicit in time) as a straightforward loop over typed
 * arrays. Textbook co-rotational struts (Crisfield 1990): a frame from the chord and the mean of the end sections, rotations against it from the skew part of
 * their matrices, linear forces carried back by the frame. Plain but fair: scalars in locals, nothing allocated, no arc functions, branch factors made before.
 */
export interface PlainLattice {
  readonly frame: ElasticFrame;
  readonly mass: Float64Array;
  readonly inertia: Float64Array;
  readonly step: number;
  /** Height of a floor and what it pushes with, N/mm. */
  readonly floor: number;
  readonly stiffness: number;
  readonly branches: readonly { readonly ratio: number; readonly timeS: number }[];
}

export interface PlainStep {
  readonly positions: Float64Array;
  /** Back to the reference, falling. */
  start(velocityZ: number): void;
  run(): void;
}

export function plainStep({
  frame: { graph, lengthMm, triads, natural },
  mass,
  inertia,
  step,
  floor,
  stiffness,
  branches,
}: PlainLattice): PlainStep {
  const { nodeCount, strutCount, ends } = graph;
  const positions = graph.xyz.slice();
  const [velocities, spins, forces, moments] = [0, 1, 2, 3].map(() => new Float64Array(3 * nodeCount));
  const attitudes = new Float64Array(4 * nodeCount);
  const rotations = new Float64Array(9 * nodeCount);
  const count = branches.length;
  const last = new Float64Array(6 * strutCount);
  const own = new Float64Array(6 * count * strutCount);
  const keep = Float64Array.from(branches, ({ timeS }) => Math.exp(-step / timeS));
  const take = Float64Array.from(branches, ({ timeS }, b) => ((1 - keep[b]) * timeS) / step);
  const ratio = Float64Array.from(branches, (branch) => branch.ratio);

  /** The branches' share of one deformation: w <- keep w + take (q - q before); answers q + sum of ratio w. */
  function effective(s: number, k: number, q: number): number {
    const change = q - last[6 * s + k];
    last[6 * s + k] = q;
    let sum = q;
    for (let b = 0; b < count; b++) {
      const at = 6 * (count * s + b) + k;
      const w = keep[b] * own[at] + take[b] * change;
      own[at] = w;
      sum += ratio[b] * w;
    }
    return sum;
  }

  function strut(s: number): void {
    const a = ends[2 * s];
    const b = ends[2 * s + 1];
    // Second and third axis of both end sections: R e2, R e3.
    const t = 9 * s;
    const e2x = triads[t + 3];
    const e2y = triads[t + 4];
    const e2z = triads[t + 5];
    const e3x = triads[t + 6];
    const e3y = triads[t + 7];
    const e3z = triads[t + 8];
    const A = 9 * a;
    const B = 9 * b;
    const a2x = rotations[A] * e2x + rotations[A + 1] * e2y + rotations[A + 2] * e2z;
    const a2y = rotations[A + 3] * e2x + rotations[A + 4] * e2y + rotations[A + 5] * e2z;
    const a2z = rotations[A + 6] * e2x + rotations[A + 7] * e2y + rotations[A + 8] * e2z;
    const a3x = rotations[A] * e3x + rotations[A + 1] * e3y + rotations[A + 2] * e3z;
    const a3y = rotations[A + 3] * e3x + rotations[A + 4] * e3y + rotations[A + 5] * e3z;
    const a3z = rotations[A + 6] * e3x + rotations[A + 7] * e3y + rotations[A + 8] * e3z;
    const b2x = rotations[B] * e2x + rotations[B + 1] * e2y + rotations[B + 2] * e2z;
    const b2y = rotations[B + 3] * e2x + rotations[B + 4] * e2y + rotations[B + 5] * e2z;
    const b2z = rotations[B + 6] * e2x + rotations[B + 7] * e2y + rotations[B + 8] * e2z;
    const b3x = rotations[B] * e3x + rotations[B + 1] * e3y + rotations[B + 2] * e3z;
    const b3y = rotations[B + 3] * e3x + rotations[B + 4] * e3y + rotations[B + 5] * e3z;
    const b3z = rotations[B + 6] * e3x + rotations[B + 7] * e3y + rotations[B + 8] * e3z;
    // The moving frame: chord f1, mean second axis made square to it f2, their product f3.
    let f1x = positions[3 * b] - positions[3 * a];
    let f1y = positions[3 * b + 1] - positions[3 * a + 1];
    let f1z = positions[3 * b + 2] - positions[3 * a + 2];
    const length = Math.sqrt(f1x * f1x + f1y * f1y + f1z * f1z);
    f1x /= length;
    f1y /= length;
    f1z /= length;
    let f2x = a2x + b2x;
    let f2y = a2y + b2y;
    let f2z = a2z + b2z;
    const along = f2x * f1x + f2y * f1y + f2z * f1z;
    f2x -= along * f1x;
    f2y -= along * f1y;
    f2z -= along * f1z;
    const norm = Math.sqrt(f2x * f2x + f2y * f2y + f2z * f2z);
    f2x /= norm;
    f2y /= norm;
    f2z /= norm;
    const f3x = f1y * f2z - f1z * f2y;
    const f3y = f1z * f2x - f1x * f2z;
    const f3z = f1x * f2y - f1y * f2x;
    // Deformations: stretch, rotations of the ends against the frame, twist; each with its branches.
    const twist0 = (f3x * a2x + f3y * a2y + f3z * a2z - f2x * a3x - f2y * a3y - f2z * a3z) / 2;
    const twist1 = (f3x * b2x + f3y * b2y + f3z * b2z - f2x * b3x - f2y * b3y - f2z * b3z) / 2;
    const stretch = effective(s, 0, length - lengthMm[s]);
    const q02 = effective(s, 1, f1x * a3x + f1y * a3y + f1z * a3z);
    const q03 = effective(s, 2, -f1x * a2x - f1y * a2y - f1z * a2z);
    const q12 = effective(s, 3, f1x * b3x + f1y * b3y + f1z * b3z);
    const q13 = effective(s, 4, -f1x * b2x - f1y * b2y - f1z * b2z);
    const twisted = effective(s, 5, twist1 - twist0);
    // Forces, carried back by the frame.
    const n = 12 * s;
    const axial = natural[n] * stretch;
    const torque = natural[n + 1] * twisted;
    const m02 = natural[n + 2] * q02 + natural[n + 3] * q03 + natural[n + 4] * q12 + natural[n + 5] * q13;
    const m03 = natural[n + 3] * q02 + natural[n + 6] * q03 + natural[n + 7] * q12 + natural[n + 8] * q13;
    const m12 = natural[n + 4] * q02 + natural[n + 7] * q03 + natural[n + 9] * q12 + natural[n + 10] * q13;
    const m13 = natural[n + 5] * q02 + natural[n + 8] * q03 + natural[n + 10] * q12 + natural[n + 11] * q13;
    const shear2 = -(m03 + m13) / length;
    const shear3 = (m02 + m12) / length;
    const fx = axial * f1x + shear2 * f2x + shear3 * f3x;
    const fy = axial * f1y + shear2 * f2y + shear3 * f3y;
    const fz = axial * f1z + shear2 * f2z + shear3 * f3z;
    forces[3 * a] += fx;
    forces[3 * a + 1] += fy;
    forces[3 * a + 2] += fz;
    forces[3 * b] -= fx;
    forces[3 * b + 1] -= fy;
    forces[3 * b + 2] -= fz;
    moments[3 * a] += torque * f1x - m02 * f2x - m03 * f3x;
    moments[3 * a + 1] += torque * f1y - m02 * f2y - m03 * f3y;
    moments[3 * a + 2] += torque * f1z - m02 * f2z - m03 * f3z;
    moments[3 * b] -= torque * f1x + m12 * f2x + m13 * f3x;
    moments[3 * b + 1] -= torque * f1y + m12 * f2y + m13 * f3y;
    moments[3 * b + 2] -= torque * f1z + m12 * f2z + m13 * f3z;
  }

  /** Velocities, positions, attitude as a unit quaternion turned by the step's angle, and its matrix. */
  function node(v: number): void {
    const i = 3 * v;
    for (let k = i; k < i + 3; k++) {
      velocities[k] += (step / mass[v]) * forces[k];
      positions[k] += step * velocities[k];
      spins[k] += (step / inertia[v]) * moments[k];
    }
    const x = 0.5 * step * spins[i];
    const y = 0.5 * step * spins[i + 1];
    const z = 0.5 * step * spins[i + 2];
    const j = 4 * v;
    const [W, X, Y, Z] = [attitudes[j], attitudes[j + 1], attitudes[j + 2], attitudes[j + 3]];
    let w = W - x * X - y * Y - z * Z;
    let a = X + x * W + y * Z - z * Y;
    let b = Y + y * W + z * X - x * Z;
    let c = Z + z * W + x * Y - y * X;
    const unit = 1 / Math.sqrt(w * w + a * a + b * b + c * c);
    attitudes[j] = w *= unit;
    attitudes[j + 1] = a *= unit;
    attitudes[j + 2] = b *= unit;
    attitudes[j + 3] = c *= unit;
    const r = 9 * v;
    rotations[r] = 1 - 2 * (b * b + c * c);
    rotations[r + 1] = 2 * (a * b - w * c);
    rotations[r + 2] = 2 * (a * c + w * b);
    rotations[r + 3] = 2 * (a * b + w * c);
    rotations[r + 4] = 1 - 2 * (a * a + c * c);
    rotations[r + 5] = 2 * (b * c - w * a);
    rotations[r + 6] = 2 * (a * c - w * b);
    rotations[r + 7] = 2 * (b * c + w * a);
    rotations[r + 8] = 1 - 2 * (a * a + b * b);
  }

  const start = (velocityZ: number) => {
    positions.set(graph.xyz);
    for (const list of [spins, velocities, attitudes, rotations, last, own]) list.fill(0);
    for (let v = 0; v < nodeCount; v++) {
      velocities[3 * v + 2] = velocityZ;
      attitudes[4 * v] = 1;
      for (const k of [0, 4, 8]) rotations[9 * v + k] = 1;
    }
  };
  const run = () => {
    forces.fill(0);
    moments.fill(0);
    for (let s = 0; s < strutCount; s++) strut(s);
    for (let v = 0; v < nodeCount; v++) {
      const gap = positions[3 * v + 2] - floor;
      if (gap < 0) forces[3 * v + 2] -= stiffness * gap;
    }
    for (let v = 0; v < nodeCount; v++) node(v);
  };
  start(0);
  return { positions, start, run };
}
