import type { Motion, Nodes } from './node-motion.ts';

/** The motion of a lattice as one body. mm, mm/s, tonne. */
export interface Whole {
  readonly centre: Float64Array;
  readonly velocity: Float64Array;
  /** Angular momentum about the centre of mass, tonne mm2/s. */
  readonly momentum: Float64Array;
  /** Spin of the rigid body with that momentum and the present inertia, rad/s. */
  readonly spin: Float64Array;
  /** Kinetic energy, mJ: that of all nodes, and that of the rigid body's shift and spin. */
  kinetic: number;
  shifting: number;
  spinning: number;
}

export const makeWhole = (): Whole => ({
  centre: new Float64Array(3),
  velocity: new Float64Array(3),
  momentum: new Float64Array(3),
  spin: new Float64Array(3),
  kinetic: 0,
  shifting: 0,
  spinning: 0,
});

/**
 * The whole at a full step. Velocities are known half a step before (`before`: velocities then spins, 3 per node each) and after; their mean is taken for
 * momenta. The kinetic energy is 1/2 m v(before).v(after): with it leapfrog conserves the energy of linear struts exactly (Hairer, Lubich & Wanner 2003).
 */
export function wholeOf(
  { count, mass, inertia }: Nodes,
  { positions, velocities, spins }: Motion,
  before: Float64Array,
  whole: Whole,
): void {
  const { centre, velocity, momentum } = whole;
  const half = 3 * count;
  centre.fill(0);
  velocity.fill(0);
  momentum.fill(0);
  let [total, kinetic] = [0, 0];
  for (let v = 0, i = 0; v < count; v++, i += 3) {
    total += mass[v];
    for (let k = 0; k < 3; k++) {
      centre[k] += mass[v] * positions[i + k];
      velocity[k] += (mass[v] / 2) * (before[i + k] + velocities[i + k]);
      kinetic += mass[v] * before[i + k] * velocities[i + k] + inertia[v] * before[half + i + k] * spins[i + k];
    }
  }
  for (let k = 0; k < 3; k++) {
    centre[k] /= total;
    velocity[k] /= total;
  }
  const tensor = new Float64Array(6);
  for (let v = 0, i = 0; v < count; v++, i += 3) {
    const [x, y, z] = [positions[i] - centre[0], positions[i + 1] - centre[1], positions[i + 2] - centre[2]];
    const [vx, vy, vz] = [0, 1, 2].map((k) => (before[i + k] + velocities[i + k]) / 2);
    const [m, j] = [mass[v], inertia[v]];
    momentum[0] += m * (y * vz - z * vy) + (j / 2) * (before[half + i] + spins[i]);
    momentum[1] += m * (z * vx - x * vz) + (j / 2) * (before[half + i + 1] + spins[i + 1]);
    momentum[2] += m * (x * vy - y * vx) + (j / 2) * (before[half + i + 2] + spins[i + 2]);
    [m * (y * y + z * z) + j, m * (x * x + z * z) + j, m * (x * x + y * y) + j, -m * x * y, -m * x * z, -m * y * z].forEach(
      (each, k) => (tensor[k] += each),
    );
  }
  whole.spin.set(solveSymmetric(tensor, momentum));
  whole.kinetic = kinetic / 2;
  whole.shifting = (total / 2) * (velocity[0] ** 2 + velocity[1] ** 2 + velocity[2] ** 2);
  whole.spinning = (momentum[0] * whole.spin[0] + momentum[1] * whole.spin[1] + momentum[2] * whole.spin[2]) / 2;
}

/** x of A x = b by Cramer's rule; A as xx, yy, zz, xy, xz, yz. */
function solveSymmetric([a, b, c, d, e, f]: Float64Array, [x, y, z]: Float64Array): [number, number, number] {
  const [m0, m1, m2] = [b * c - f * f, e * f - d * c, d * f - b * e];
  const determinant = a * m0 + d * m1 + e * m2;
  return [
    (m0 * x + m1 * y + m2 * z) / determinant,
    (m1 * x + (a * c - e * e) * y + (d * e - a * f) * z) / determinant,
    (m2 * x + (d * e - a * f) * y + (a * b - d * d) * z) / determinant,
  ];
}
