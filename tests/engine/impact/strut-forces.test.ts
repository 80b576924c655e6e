import { describe, expect, it } from 'vitest';
import { deformationsOf, naturalForces } from '../../../worker/engine/impact/deformations.ts';
import { type Model, modelOf, restOf } from '../../../worker/engine/impact/model.ts';
import { drift, type Motion } from '../../../worker/engine/impact/node-motion.ts';
import { recursionOf } from '../../../worker/engine/impact/recursion.ts';
import { strutForces } from '../../../worker/engine/impact/strut-forces.ts';
import { graphOf, plainFrame, seeded } from './lattices.ts';

const ELASTIC = recursionOf({ longTermMPa: 60, instantaneousMPa: 60, branches: [] }, 1);

/** A large turn is made of this many, as a step's turn is small. */
const SMALL = 128;

/** A tetrahedron of struts, its natural stiffness made general: the two bending planes coupled, as a joint model may couple them. */
function tetrahedron(): Model {
  const places = [
    [0, 0, 0],
    [12, 1, 0],
    [5, 11, 2],
    [4, 3, 10],
  ];
  const graph = graphOf(
    places,
    [
      [0, 1],
      [0, 2],
      [0, 3],
      [1, 2],
      [1, 3],
      [2, 3],
    ],
    3,
  );
  const frame = plainFrame(graph, 60);
  const random = seeded(3);
  for (let s = 0; s < graph.strutCount; s++) for (let k = 2; k < 12; k++) frame.natural[12 * s + k] += 20 * random();
  return modelOf(frame, 1e-6);
}

/** Moves and turns every node at random: by `shift` mm and `turn` rad at most. */
function disturb(model: Model, shift: number, turn: number, seed = 7): Motion {
  const motion = restOf(model);
  const random = seeded(seed);
  for (let k = 0; k < motion.spins.length; k++) {
    motion.velocities[k] = shift * random();
    motion.spins[k] = turn * random();
  }
  for (let k = 0; k < SMALL; k++) drift(model.nodes, motion, 1 / SMALL);
  return motion;
}

/** Elastic energy of all struts by the readable way: 1/2 q K q. */
function energyOf({ struts }: Model, { positions, rotations }: Motion): number {
  const [q, force] = [new Float64Array(6), new Float64Array(6)];
  let energy = 0;
  for (let s = 0; s < struts.count; s++) {
    deformationsOf(struts, s, positions, rotations, q);
    naturalForces(struts, s, q, force);
    for (let k = 0; k < 6; k++) energy += (force[k] * q[k]) / 2;
  }
  return energy;
}

function loadsOf(model: Model, motion: Motion): Float64Array {
  motion.loads.fill(0);
  strutForces(model.struts, ELASTIC, motion.positions, motion.rotations, new Float64Array(0), motion.loads);
  return motion.loads;
}

/** Turns and shifts everything rigidly. */
function carried(model: Model, motion: Motion): Motion {
  const turn = restOf(model);
  turn.spins.set([0.7, -1.1, 0.4]);
  for (let k = 0; k < SMALL; k++) drift(model.nodes, turn, 1 / SMALL);
  const Q = turn.rotations.slice(0, 9);
  const moved = { ...motion, positions: motion.positions.slice(), rotations: motion.rotations.slice(), loads: motion.loads.slice() };
  for (let v = 0; v < model.nodes.count; v++) {
    for (let i = 0; i < 3; i++) {
      moved.positions[3 * v + i] = [0, 1, 2].reduce((sum, k) => sum + Q[3 * i + k] * motion.positions[3 * v + k], 10 * i);
      for (let j = 0; j < 3; j++)
        moved.rotations[9 * v + 3 * i + j] = [0, 1, 2].reduce((sum, k) => sum + Q[3 * i + k] * motion.rotations[9 * v + 3 * k + j], 0);
    }
  }
  return moved;
}

describe('forces of struts', () => {
  const model = tetrahedron();

  it('are none in the reference, nor after any rigid motion', () => {
    const rest = carried(model, restOf(model));
    // Forces of a stretch by 1 mm are of the order of 40 N; rounding of places of the order of 30 mm.
    for (const load of loadsOf(model, rest)) expect(Math.abs(load)).toBeLessThan(1e-10);
  });

  it('are the exact gradient of the energy', () => {
    const motion = disturb(model, 1.5, 0.3);
    const loads = loadsOf(model, motion).slice();
    const d = 1e-5;
    for (let v = 0; v < model.nodes.count; v++) {
      for (let k = 0; k < 6; k++) {
        const energies = [-d, d].map((step) => {
          const nudged = {
            ...motion,
            positions: motion.positions.slice(),
            attitudes: motion.attitudes.slice(),
            rotations: motion.rotations.slice(),
          };
          const still = { ...nudged, velocities: new Float64Array(motion.velocities.length), spins: new Float64Array(motion.spins.length) };
          (k < 3 ? still.velocities : still.spins)[3 * v + (k % 3)] = step;
          drift(model.nodes, still, 1);
          return energyOf(model, still);
        });
        const slope = (energies[1] - energies[0]) / (2 * d);
        // Central difference of an energy of about 100 N mm: rounding 1e-14 * 100 / 1e-5.
        expect(Math.abs(slope + loads[6 * v + k])).toBeLessThan(1e-5);
      }
    }
  });

  it('balance in force and in moment about any point', () => {
    const motion = disturb(model, 1.5, 0.3);
    const loads = loadsOf(model, motion);
    const total = new Float64Array(6);
    for (let v = 0; v < model.nodes.count; v++) {
      const [x, y, z] = motion.positions.subarray(3 * v, 3 * v + 3);
      const [fx, fy, fz, mx, my, mz] = loads.subarray(6 * v, 6 * v + 6);
      [fx, fy, fz, mx + y * fz - z * fy, my + z * fx - x * fz, mz + x * fy - y * fx].forEach((each, k) => (total[k] += each));
    }
    // Sums of numbers of the order of 100: rounding.
    for (const each of total) expect(Math.abs(each)).toBeLessThan(1e-11);
  });

  it('turn with the body', () => {
    const motion = disturb(model, 1.5, 0.3);
    const moved = carried(model, motion);
    const norm = (loads: Float64Array, at: number) => Math.hypot(loads[at], loads[at + 1], loads[at + 2]);
    const [loads, turned] = [loadsOf(model, motion), loadsOf(model, moved)];
    for (let at = 0; at < loads.length; at += 3) expect(norm(turned, at)).toBeCloseTo(norm(loads, at), 7);
  });

  it('are those of the linear strut where it moves little', () => {
    const motion = disturb(model, 1e-4, 1e-5);
    const { struts } = model;
    const q = new Float64Array(6);
    for (let s = 0; s < struts.count; s++) {
      deformationsOf(struts, s, motion.positions, motion.rotations, q);
      const [a, b] = [struts.ends[2 * s], struts.ends[2 * s + 1]];
      const axis = [0, 1, 2].map((k) => (model.reference[3 * b + k] - model.reference[3 * a + k]) / struts.numbers[20 * s + 6]);
      const e2 = [...struts.numbers.subarray(20 * s, 20 * s + 3)];
      const e3 = [...struts.numbers.subarray(20 * s + 3, 20 * s + 6)];
      const along = (x: number[], y: number[]) => x[0] * y[0] + x[1] * y[1] + x[2] * y[2];
      const shift = [0, 1, 2].map((k) => motion.velocities[3 * b + k] - motion.velocities[3 * a + k]);
      const turnOf = (v: number) => [...motion.spins.subarray(3 * v, 3 * v + 3)];
      const L = struts.numbers[20 * s + 6];
      // phi = theta - e1 x (u1 - u0) / L, so about e2: theta_2 + (u1 - u0).e3 / L, and about e3: theta_3 - (u1 - u0).e2 / L.
      const expected = [
        along(shift, axis),
        along(turnOf(a), e2) + along(shift, e3) / L,
        along(turnOf(a), e3) - along(shift, e2) / L,
        along(turnOf(b), e2) + along(shift, e3) / L,
        along(turnOf(b), e3) - along(shift, e2) / L,
        along(turnOf(b), axis) - along(turnOf(a), axis),
      ];
      // Second-order terms of shifts 1e-4 mm and turns 1e-5 rad.
      expected.forEach((each, k) => expect(Math.abs(q[k] - each), `${s} ${k}`).toBeLessThan(5e-9));
    }
  });
});
