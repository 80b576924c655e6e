import { LOAD_NUMBERS } from './strut-program.ts';

/** Lumped nodes: mass (tonne), inertia about every axis (tonne mm2), radius of the sphere that touches the floor (mm). */
export interface Nodes {
  readonly count: number;
  readonly mass: Float64Array;
  readonly inertia: Float64Array;
  readonly radius: Float64Array;
}

/** What moves; velocities are half a step behind the positions between two steps. */
export interface Motion {
  /** mm, 3 per node. */
  readonly positions: Float64Array;
  /** mm/s, 3 per node. */
  readonly velocities: Float64Array;
  /** Unit quaternion w x y z from the reference, 4 per node, and the same as a matrix, 9 per node, row-major. */
  readonly attitudes: Float64Array;
  readonly rotations: Float64Array;
  /** rad/s in space, 3 per node. */
  readonly spins: Float64Array;
  /** Force and moment on every node, LOAD_NUMBERS each. */
  readonly loads: Float64Array;
}

/** A lattice's nodes at rest, with the lists that its struts work in. */
export function motionOf(struts: Pick<Motion, 'positions' | 'rotations' | 'loads'>): Motion {
  const numbers = struts.positions.length;
  const { positions, rotations, loads } = struts;
  return {
    positions,
    rotations,
    loads,
    attitudes: new Float64Array((4 * numbers) / 3),
    velocities: new Float64Array(numbers),
    spins: new Float64Array(numbers),
  };
}

/** Kick: velocities and spins by the loads over one step; gravity (mm/s2) acts along -z. */
export function kick({ count, mass, inertia }: Nodes, { velocities, spins, loads }: Motion, gravity: number, step: number): void {
  for (let v = 0, i = 0, f = 0; v < count; v++, i += 3, f += LOAD_NUMBERS) {
    const perMass = step / mass[v];
    const perInertia = step / inertia[v];
    velocities[i] += perMass * loads[f];
    velocities[i + 1] += perMass * loads[f + 1];
    velocities[i + 2] += perMass * loads[f + 2] - step * gravity;
    spins[i] += perInertia * loads[f + 3];
    spins[i + 1] += perInertia * loads[f + 4];
    spins[i + 2] += perInertia * loads[f + 5];
  }
}

/**
 * Drift: positions by the velocities, attitudes by the rotation through step * spin: q <- (cos(x/2), sin(x/2) axis) q with x its angle (the exponential
 * map; its series to x^5 is exact to 1e-12 at the 0.02 rad of a step), then back to unit length. An inertia equal about every axis has no gyroscopic term.
 */
export function drift({ count }: Nodes, { positions, velocities, attitudes, rotations, spins }: Motion, step: number): void {
  for (let k = 0; k < 3 * count; k++) positions[k] += step * velocities[k];
  for (let v = 0, i = 0, j = 0, r = 0; v < count; v++, i += 3, j += 4, r += 9) {
    const x = step * spins[i];
    const y = step * spins[i + 1];
    const z = step * spins[i + 2];
    const square = x * x + y * y + z * z;
    const c = 1 - square * (1 / 8 - square * (1 / 384));
    const s = 0.5 - square * (1 / 48 - square * (1 / 3840));
    const sx = s * x;
    const sy = s * y;
    const sz = s * z;
    const w = attitudes[j];
    const a = attitudes[j + 1];
    const b = attitudes[j + 2];
    const d = attitudes[j + 3];
    let nw = c * w - sx * a - sy * b - sz * d;
    let na = c * a + sx * w + sy * d - sz * b;
    let nb = c * b + sy * w + sz * a - sx * d;
    let nd = c * d + sz * w + sx * b - sy * a;
    // One Newton step of 1 / sqrt from 1: rounding is all that has to be mended.
    const unit = 1.5 - 0.5 * (nw * nw + na * na + nb * nb + nd * nd);
    attitudes[j] = nw *= unit;
    attitudes[j + 1] = na *= unit;
    attitudes[j + 2] = nb *= unit;
    attitudes[j + 3] = nd *= unit;
    const a2 = 2 * na;
    const b2 = 2 * nb;
    const d2 = 2 * nd;
    const aa = a2 * na;
    const bb = b2 * nb;
    const dd = d2 * nd;
    const ab = a2 * nb;
    const ad = a2 * nd;
    const bd = b2 * nd;
    const wa = a2 * nw;
    const wb = b2 * nw;
    const wd = d2 * nw;
    rotations[r] = 1 - bb - dd;
    rotations[r + 1] = ab - wd;
    rotations[r + 2] = ad + wb;
    rotations[r + 3] = ab + wd;
    rotations[r + 4] = 1 - aa - dd;
    rotations[r + 5] = bd - wa;
    rotations[r + 6] = ad - wb;
    rotations[r + 7] = bd + wa;
    rotations[r + 8] = 1 - aa - bb;
  }
}
