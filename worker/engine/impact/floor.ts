import { type Motion, NODE_NUMBERS, type Nodes } from './nodes.ts';

/** Part of a touching node's mass that its contact spring may use up of the stability limit. */
export const FLOOR_SHARE = 0.15;

/**
 * Stiffness (N/mm) of the one-sided spring between each node's sphere and the rigid floor z = 0: as stiff as FLOOR_SHARE of the node's mass allows at the
 * highest frequency of the struts, so that it does not shorten the step. A floor three times as
 * stiff moves a ball's restitution by 0.1 % and its contact time by 0.5 % (GP(3,3) from 1.8 m).
 */
export function contactStiffness({ mass }: Nodes, stableStepS: number): Float64Array {
  return mass.map((each) => FLOOR_SHARE * each * (2 / stableStepS) ** 2);
}

/** Adds the floor's push to the loads; answers the total, N. */
export function pushOfFloor({ count, radius }: Nodes, stiffness: Float64Array, { positions, loads }: Motion): number {
  let total = 0;
  for (let v = 0; v < count; v++) {
    const gap = positions[3 * v + 2] - radius[v];
    if (gap >= 0) continue;
    const push = -stiffness[v] * gap;
    loads[NODE_NUMBERS * v + 2] += push;
    total += push;
  }
  return total;
}

/** Energy in the contact springs, mJ. */
export function contactEnergy({ count, radius }: Nodes, stiffness: Float64Array, { positions }: Motion): number {
  let energy = 0;
  for (let v = 0; v < count; v++) {
    const gap = Math.min(0, positions[3 * v + 2] - radius[v]);
    energy += (stiffness[v] * gap * gap) / 2;
  }
  return energy;
}

/** Energy that friction takes, mJ: a push along the floor works over the half step before it and the one after. */
export interface Rubbing {
  before: number;
  after: number;
}

/**
 * Coulomb friction after the kick: the sideways speed of a touching sphere's lowest point is taken away as far as `coefficient` times the push allows,
 * all of it where it sticks. (An impulse in each step, so sticking needs no spring and no step limit: Moreau 1988.)
 */
export function rub(nodes: Nodes, stiffness: Float64Array, motion: Motion, coefficient: number, step: number, rubbing: Rubbing): void {
  const { count, mass, inertia, radius } = nodes;
  const { positions, rates, loads } = motion;
  rubbing.before = 0;
  rubbing.after = 0;
  for (let v = 0; v < count; v++) {
    const r = positions[3 * v + 2];
    const gap = r - radius[v];
    if (gap >= 0) continue;
    const i = NODE_NUMBERS * v;
    const x = rates[i] - r * rates[i + 4];
    const y = rates[i + 1] + r * rates[i + 3];
    const speed = Math.sqrt(x * x + y * y);
    if (speed === 0) continue;
    const yielding = 1 / mass[v] + (r * r) / inertia[v];
    const impulse = Math.min(-coefficient * stiffness[v] * gap * step, speed / yielding);
    const [px, py] = [(-impulse * x) / speed, (-impulse * y) / speed];
    // The speeds before the kick.
    const x0 = x - step * (loads[i] / mass[v] - (r * loads[i + 4]) / inertia[v]);
    const y0 = y - step * (loads[i + 1] / mass[v] + (r * loads[i + 3]) / inertia[v]);
    rubbing.before -= (px * x0 + py * y0) / 2;
    rubbing.after += (impulse * (speed - impulse * yielding)) / 2;
    rates[i] += px / mass[v];
    rates[i + 1] += py / mass[v];
    rates[i + 3] += (r * py) / inertia[v];
    rates[i + 4] -= (r * px) / inertia[v];
  }
}
