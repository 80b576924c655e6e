import { averageOver, averageTensor } from './group.ts';
import { type Motion, NODE_NUMBERS, type Nodes } from './nodes.ts';

/** The motion of a lattice as one body. mm, mm/s, mJ. */
export interface Whole {
  readonly centre: Float64Array;
  readonly velocity: Float64Array;
  /** Kinetic energy of all nodes. */
  kinetic: number;
}

export const makeWhole = (): Whole => ({ centre: new Float64Array(3), velocity: new Float64Array(3), kinetic: 0 });

export function copyWhole(from: Whole, to: Whole): void {
  to.centre.set(from.centre);
  to.velocity.set(from.velocity);
  to.kinetic = from.kinetic;
}

/**
 * The whole at a full step. Rates are known half a step before and after it; their mean is taken for the velocity. The kinetic energy is
 * 1/2 m v(before).v(after): with it leapfrog conserves the energy of linear struts exactly (Hairer, Lubich & Wanner 2003). `group`: the nodes are those of
 * one part of a body on which these matrices do not change anything; momenta are means over it, and energies those of the part.
 */
export function wholeOf(
  { count, mass, inertia }: Nodes,
  { positions, rates }: Motion,
  before: Float64Array,
  group: Float64Array,
  whole: Whole,
): void {
  let [total, x, y, z, vx, vy, vz, kinetic] = [0, 0, 0, 0, 0, 0, 0, 0];
  for (let v = 0, i = 0, j = 0; v < count; v++, i += 3, j += NODE_NUMBERS) {
    const m = mass[v];
    total += m;
    x += m * positions[i];
    y += m * positions[i + 1];
    z += m * positions[i + 2];
    vx += m * (before[j] + rates[j]);
    vy += m * (before[j + 1] + rates[j + 1]);
    vz += m * (before[j + 2] + rates[j + 2]);
    kinetic += m * (before[j] * rates[j] + before[j + 1] * rates[j + 1] + before[j + 2] * rates[j + 2]);
    kinetic += inertia[v] * (before[j + 3] * rates[j + 3] + before[j + 4] * rates[j + 4] + before[j + 5] * rates[j + 5]);
  }
  whole.centre.set([x / total, y / total, z / total]);
  whole.velocity.set([vx / (2 * total), vy / (2 * total), vz / (2 * total)]);
  whole.kinetic = kinetic / 2;
  averageOver(group, whole.centre, 'polar');
  averageOver(group, whole.velocity, 'polar');
}

/** Spin (rad/s) of the rigid body that has the lattice's angular momentum about its centre of mass and its present inertia; and its energy, mJ. */
export function spinOf(
  { count, mass, inertia }: Nodes,
  { positions, rates }: Motion,
  group: Float64Array,
  { centre }: Whole,
): { spin: number[]; energy: number } {
  const momentum = [0, 0, 0];
  const tensor = [0, 0, 0, 0, 0, 0];
  for (let v = 0; v < count; v++) {
    const [x, y, z] = [0, 1, 2].map((k) => positions[3 * v + k] - centre[k]);
    const [vx, vy, vz, ...turning] = rates.subarray(NODE_NUMBERS * v, NODE_NUMBERS * v + NODE_NUMBERS);
    const [m, j] = [mass[v], inertia[v]];
    [y * vz - z * vy, z * vx - x * vz, x * vy - y * vx].forEach((each, k) => (momentum[k] += m * each + j * turning[k]));
    [m * (y * y + z * z) + j, m * (x * x + z * z) + j, m * (x * x + y * y) + j, -m * x * y, -m * x * z, -m * y * z].forEach(
      (each, k) => (tensor[k] += each),
    );
  }
  averageOver(group, momentum, 'axial');
  const spin = solveSymmetric(averageTensor(group, tensor), momentum);
  return { spin, energy: spin.reduce((sum, each, k) => sum + (each * momentum[k]) / 2, 0) };
}

/** x of A x = b by Cramer's rule; A as xx, yy, zz, xy, xz, yz. */
function solveSymmetric([a, b, c, d, e, f]: readonly number[], [x, y, z]: readonly number[]): number[] {
  const [m0, m1, m2] = [b * c - f * f, e * f - d * c, d * f - b * e];
  const determinant = a * m0 + d * m1 + e * m2;
  return [
    (m0 * x + m1 * y + m2 * z) / determinant,
    (m1 * x + (a * c - e * e) * y + (d * e - a * f) * z) / determinant,
    (m2 * x + (d * e - a * f) * y + (a * b - d * d) * z) / determinant,
  ];
}
