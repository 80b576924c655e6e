import { describe, expect, it } from 'vitest';
import { FIBRE_NUMBERS } from '../../../worker/engine/impact/account-program.ts';
import { compileLattice } from '../../../worker/engine/impact/compiled-lattice.ts';
import { modelOf } from '../../../worker/engine/impact/model.ts';
import type { Branch } from '../../../worker/engine/impact/relaxation.ts';
import { stableStep } from '../../../worker/engine/impact/stable-step.ts';
import { doubleShell } from '../lattice/samples.ts';
import { graphOf, plainFrame, seeded } from './lattices.ts';

const BALL = modelOf(plainFrame(doubleShell(1, 0, [40, 30], [4, 3.5, 3.5]).graph, 50), 3e-5);
const BRANCHES = [
  { ratio: 0.5, timeS: 2e-4 },
  { ratio: 0.3, timeS: 5e-3 },
];
const STABLE_S = stableStep(BALL.nodes, BALL.struts, 1.8, 0);

/** A lattice in free flight without weight: its nodes at the reference with seeded random rates. */
function thrown(branches: readonly Branch[], stepS: number, speed: number) {
  const { nodes, struts } = BALL;
  const lattice = compileLattice({
    nodes,
    struts,
    fibres: new Float64Array(FIBRE_NUMBERS * struts.count),
    branches,
    stepS,
    gravityMmS2: 0,
  });
  const { motion } = lattice;
  motion.positions.set(BALL.reference);
  const random = seeded(5);
  for (let v = 0; v < nodes.count; v++) {
    motion.attitudes.set([1, 0, 0, 0], 4 * v);
    motion.rotations.set([1, 0, 0, 0, 1, 0, 0, 0, 1], 9 * v);
    for (let k = 0; k < 6; k++) motion.rates[6 * v + k] = (k < 3 ? speed : speed / 10) * random();
  }
  return lattice;
}

/** Momentum and angular momentum about the origin. */
function momenta({ positions, rates }: { positions: Float64Array; rates: Float64Array }): number[] {
  const sum = [0, 0, 0, 0, 0, 0];
  BALL.nodes.mass.forEach((m, v) => {
    const [x, y, z] = positions.subarray(3 * v, 3 * v + 3);
    const [vx, vy, vz, ...spin] = rates.subarray(6 * v, 6 * v + 6);
    const turning = [y * vz - z * vy, z * vx - x * vz, x * vy - y * vx];
    for (let k = 0; k < 3; k++) {
      sum[k] += m * [vx, vy, vz][k];
      sum[3 + k] += m * turning[k] + BALL.nodes.inertia[v] * spin[k];
    }
  });
  return sum;
}

describe('a lattice in free flight', () => {
  it('keeps momentum and angular momentum, whatever its struts do and lose', () => {
    const lattice = thrown(BRANCHES, STABLE_S / 2, 3000);
    const before = momenta(lattice.motion);
    for (let k = 0; k < 400; k++) {
      lattice.load();
      lattice.kick();
      lattice.drift();
    }
    const scale = [0, 3].map((from) => Math.hypot(...before.slice(from, from + 3)));
    // Leapfrog keeps both but for rounding.
    momenta(lattice.motion).forEach((each, k) => expect(Math.abs(each - before[k]) / scale[k < 3 ? 0 : 1]).toBeLessThan(1e-11));
  });

  it('is found with an error that falls by four when the step is halved', () => {
    const until = 40 * STABLE_S;
    const placesWith = (parts: number) => {
      const stepS = STABLE_S / parts;
      const lattice = thrown(BRANCHES, stepS, 300);
      // The first rates are those at the start: half a kick makes them those of half a step later.
      lattice.load();
      const { rates, loads } = lattice.motion;
      BALL.nodes.mass.forEach((m, v) => {
        for (let k = 0; k < 6; k++) rates[6 * v + k] += ((stepS / 2) * loads[6 * v + k]) / (k < 3 ? m : BALL.nodes.inertia[v]);
      });
      lattice.drift();
      for (let k = 1; k < 40 * parts; k++) {
        lattice.load();
        lattice.kick();
        lattice.drift();
      }
      return lattice.motion.positions.slice();
    };
    const [coarse, middle, fine] = [4, 8, 16].map(placesWith);
    const gap = (a: Float64Array, b: Float64Array) => Math.hypot(...a.map((x, k) => x - b[k]));
    const order = Math.log2(gap(coarse, middle) / gap(middle, fine));
    expect(until).toBeGreaterThan(0);
    // Second order; the next terms of the series leave a tenth.
    expect(order).toBeGreaterThan(1.9);
    expect(order).toBeLessThan(2.1);
  });
});

/** Two nodes and one strut, moved along its axis only: one degree of freedom, the stretch, with half a node's mass. */
function axialStrut(branches: readonly Branch[], stepS: number, closingSpeed: number) {
  const model = modelOf(
    plainFrame(
      graphOf(
        [
          [0, 0, 0],
          [10, 0, 0],
        ],
        [[0, 1]],
        3,
      ),
      60,
    ),
    1e-6,
  );
  const lattice = compileLattice({ ...model, fibres: new Float64Array(FIBRE_NUMBERS), branches, stepS, gravityMmS2: 0 });
  lattice.motion.positions.set(model.reference);
  for (let v = 0; v < 2; v++) {
    lattice.motion.attitudes.set([1, 0, 0, 0], 4 * v);
    lattice.motion.rotations.set([1, 0, 0, 0, 1, 0, 0, 0, 1], 9 * v);
    lattice.motion.rates[6 * v] = (v === 0 ? 1 : -1) * (closingSpeed / 2);
  }
  const mass = model.nodes.mass[0] / 2;
  const stiffness = model.struts.numbers[8];
  return { lattice, mass, stiffness, omega: Math.sqrt(stiffness / mass) };
}

const stretchOf = ({ positions }: { positions: Float64Array }) => positions[3] - positions[0] - 10;

describe('one strut along its axis', () => {
  it('follows the differential equations of its branches', () => {
    const { omega } = axialStrut([], 1, 0);
    const branches = [
      { ratio: 0.6, timeS: 0.2 / omega },
      { ratio: 0.4, timeS: 3 / omega },
    ];
    const stepS = 0.01 / omega;
    const { lattice, mass, stiffness } = axialStrut(branches, stepS, 10);
    // Direct solution by the classical Runge-Kutta rule: q'' = -k/m (q + sum of ratio w), w' = q' - w / time.
    const slope = ([q, v, ...w]: number[]) => [
      v,
      (-stiffness / mass) * branches.reduce((sum, { ratio }, b) => sum + ratio * w[b], q),
      ...branches.map(({ timeS }, b) => v - w[b] / timeS),
    ];
    const along = (x: number[], d: number[], h: number) => x.map((each, k) => each + h * d[k]);
    let state = [0, -10, 0, 0];
    let worst = 0;
    for (let step = 1; step <= 1500; step++) {
      lattice.load();
      lattice.kick();
      lattice.drift();
      const [k1, h] = [slope(state), stepS];
      const k2 = slope(along(state, k1, h / 2));
      const k3 = slope(along(state, k2, h / 2));
      const k4 = slope(along(state, k3, h));
      state = state.map((x, k) => x + (h / 6) * (k1[k] + 2 * k2[k] + 2 * k3[k] + k4[k]));
      worst = Math.max(worst, Math.abs(stretchOf(lattice.motion) - state[0]));
    }
    // Amplitude 10 / omega; leapfrog errs by (omega step)^2 / 24 a radian, 15 radians: 6e-5 of it; the branches' straight steps by as little.
    expect(worst).toBeLessThan(2e-4 * (10 / omega));
  });

  // Contact that ends at zero force, linear damping (check-values C.7, computed there; 0 by definition).
  it.each([
    [0, 1],
    [0.05, 0.8588],
    [0.1, 0.7441],
    [0.2, 0.5717],
    [0.3, 0.451],
    [0.5, 0.2984],
  ])('with damping ratio %f leaves with %f of its speed in the limit of a short relaxation time', (zeta, expected) => {
    const { omega } = axialStrut([], 1, 0);
    // A branch much faster than the motion is a dashpot: damping ratio = ratio time omega / 2.
    const leaves = (fast: number) => {
      const timeS = fast / omega;
      const branches = zeta > 0 ? [{ ratio: (2 * zeta) / (timeS * omega), timeS }] : [];
      const stepS = (0.2 * fast) / omega;
      const { lattice } = axialStrut(branches, stepS, 10);
      for (let k = 0; k < 1e6; k++) {
        lattice.load();
        if (k > 10 && lattice.motion.loads[0] > 0) break;
        lattice.kick();
        lattice.drift();
      }
      const { rates } = lattice.motion;
      return (rates[6] - rates[0]) / 10;
    };
    // The error of a relaxation time is of first order in it: two of them give the limit.
    const limit = 2 * leaves(0.005) - leaves(0.01);
    expect(limit).toBeGreaterThan(expected - 5e-4);
    expect(limit).toBeLessThan(expected + 5e-4);
  });
});
