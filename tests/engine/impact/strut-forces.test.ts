import { describe, expect, it } from 'vitest';
import { strutDeformations, strutGradient } from '../../../worker/engine/frame/large-strut.ts';
import { FIBRE_NUMBERS } from '../../../worker/engine/impact/account-program.ts';
import { type CompiledLattice, compileLattice, type StrutAccount } from '../../../worker/engine/impact/compiled-lattice.ts';
import { type ElasticFrame, type Model, modelOf } from '../../../worker/engine/impact/model.ts';
import { graphOf, plainFrame, seeded } from './lattices.ts';

/** A large turn is made of this many, as a step's turn is small. */
const SMALL = 128;

/** A tetrahedron of struts, its natural stiffness made general: the two bending planes coupled, as a joint model may couple them. */
function tetrahedron(): Rig {
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
  return rigOf(frame);
}

/** A model with its compiled form, whose step is 1 s: a rate moves by itself. */
interface Rig {
  /** In the model's order of nodes and struts, for the readable way. */
  readonly frame: ElasticFrame;
  readonly model: Model;
  readonly lattice: CompiledLattice;
}

function rigOf(frame: ElasticFrame): Rig {
  const model = modelOf(frame, 1e-6);
  const fibres = new Float64Array(FIBRE_NUMBERS * model.struts.count);
  return {
    frame: inModelOrder(frame, model),
    model,
    lattice: compileLattice({ ...model, fibres, branches: [], stepS: 1, gravityMmS2: 0 }),
  };
}

function inModelOrder({ graph, lengthMm, triads, natural }: ElasticFrame, { struts, strutOf }: Model): ElasticFrame {
  const sorted = (list: Float64Array, stride: number) =>
    Float64Array.from({ length: list.length }, (_, k) => list[stride * strutOf[Math.floor(k / stride)] + (k % stride)]);
  const ordered = { ...graph, ends: struts.ends };
  return { graph: ordered, lengthMm: sorted(lengthMm, 1), triads: sorted(triads, 9), natural: sorted(natural, 12) };
}

/** Back to the reference, at rest. */
function rest({ model, lattice: { motion, drift } }: Rig): void {
  motion.positions.set(model.reference);
  motion.rates.fill(0);
  for (let v = 0; v < model.nodes.count; v++) motion.attitudes.set([1, 0, 0, 0], 4 * v);
  drift();
}

/** Moves and turns every node at random: by `shift` mm and `turn` rad at most. Answers all shifts and turns, 6 per node. */
function disturb(rig: Rig, shift: number, turn: number): Float64Array {
  rest(rig);
  const { motion, drift } = rig.lattice;
  const random = seeded(7);
  const moves = motion.rates.map((_, k) => (k % 6 < 3 ? shift : turn) * random());
  motion.rates.set(moves.map((each) => each / SMALL));
  for (let k = 0; k < SMALL; k++) drift();
  return moves;
}

/** Moves and turns everything rigidly. */
function carry({ model, lattice: { motion, drift } }: Rig): void {
  const spin = [0.7, -1.1, 0.4].map((each) => each / SMALL);
  for (let n = 0; n < SMALL; n++) {
    for (let v = 0; v < model.nodes.count; v++) {
      // Places turn as exactly as attitudes do.
      const shift = turnedBy(spin, [...motion.positions.subarray(3 * v, 3 * v + 3)]);
      motion.rates.set([...shift, ...spin], 6 * v);
    }
    drift();
  }
}

/** Displacement of a place by the rotation through `spin` (Rodrigues). */
function turnedBy(spin: readonly number[], x: readonly number[]): number[] {
  const angle = Math.hypot(...spin);
  const n = spin.map((each) => each / angle);
  const cross = (a: readonly number[], b: readonly number[]) => [
    a[1] * b[2] - a[2] * b[1],
    a[2] * b[0] - a[0] * b[2],
    a[0] * b[1] - a[1] * b[0],
  ];
  const [once, twice] = [cross(n, x), cross(n, cross(n, x))];
  return once.map((each, k) => Math.sin(angle) * each + (1 - Math.cos(angle)) * twice[k]);
}

/** Elastic energy and loads of all struts by the readable way, in which nothing is a series. */
function readable({ frame, model, lattice }: Rig): { energy: number; loads: Float64Array } {
  const loads = new Float64Array(6 * model.nodes.count);
  const gradient = new Float64Array(12);
  let energy = 0;
  for (let s = 0; s < model.struts.count; s++) {
    energy += strutGradient(frame, s, lattice.motion, gradient);
    for (let k = 0; k < 12; k++) loads[6 * model.struts.ends[2 * s + (k < 6 ? 0 : 1)] + (k % 6)] -= gradient[k];
  }
  return { energy, loads };
}

const account: StrutAccount = { strain: 0, branches: 0, loss: 0, peakStrain: 0, sine: 0 };

function programEnergy({ lattice }: Rig): number {
  lattice.account(account);
  return account.strain;
}

function loadsOf({ lattice }: Rig): Float64Array {
  lattice.load();
  return lattice.motion.loads.slice();
}

describe('forces of struts', () => {
  const rig = tetrahedron();
  const { model } = rig;
  const { motion, drift } = rig.lattice;

  it('are none in the reference, nor after any rigid motion', () => {
    rest(rig);
    for (const load of loadsOf(rig)) expect(Math.abs(load)).toBeLessThan(1e-12);
    carry(rig);
    // A stretch by 1 mm gives 40 N; 128 turns leave the places right to 1e-14 each.
    for (const load of loadsOf(rig)) expect(Math.abs(load)).toBeLessThan(1e-9);
  });

  it('are the exact gradient of their energy', () => {
    disturb(rig, 1.5, 0.3);
    const loads = loadsOf(rig);
    const kept = { positions: motion.positions.slice(), attitudes: motion.attitudes.slice() };
    const d = 1e-5;
    for (let v = 0; v < model.nodes.count; v++) {
      for (let k = 0; k < 6; k++) {
        const energies = [-d, d].map((step) => {
          motion.positions.set(kept.positions);
          motion.attitudes.set(kept.attitudes);
          motion.rates.fill(0);
          motion.rates[6 * v + k] = step;
          drift();
          return programEnergy(rig);
        });
        const slope = (energies[1] - energies[0]) / (2 * d);
        // Central difference of an energy of about 100 N mm: rounding 1e-14 * 100 / 1e-5, and the third derivative times 1e-10.
        expect(Math.abs(slope + loads[6 * v + k])).toBeLessThan(1e-6);
      }
    }
  });

  it('are those of the readable strut, whose arc functions the program replaces by series', () => {
    for (const turn of [0.1, 0.2, 0.3]) {
      disturb(rig, 1.5, turn);
      const { energy, loads } = readable(rig);
      // The series of asin is good to 1.6e-7 up to 37 degrees, its slope to 1e-5, that of atan better.
      expect(programEnergy(rig) / energy).toBeCloseTo(1, 6);
      const largest = loads.reduce((most, each) => Math.max(most, Math.abs(each)), 0);
      loadsOf(rig).forEach((each, k) => expect(Math.abs(each - loads[k])).toBeLessThan(3e-5 * largest));
    }
  });

  it('are right where struts are odd in number', () => {
    const places = [
      [0, 0, 0],
      [10, 0, 1],
      [3, 9, 0],
    ];
    const triangle = rigOf(
      plainFrame(
        graphOf(
          places,
          [
            [0, 1],
            [1, 2],
            [2, 0],
          ],
          3,
        ),
        60,
      ),
    );
    disturb(triangle, 1, 0.2);
    const { energy, loads } = readable(triangle);
    expect(programEnergy(triangle) / energy).toBeCloseTo(1, 6);
    loadsOf(triangle).forEach((each, k) => expect(each).toBeCloseTo(loads[k], 4));
  });

  it('balance in force and in moment about any point', () => {
    disturb(rig, 1.5, 0.3);
    const loads = loadsOf(rig);
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
    disturb(rig, 1.5, 0.3);
    const norm = (loads: Float64Array, at: number) => Math.hypot(loads[at], loads[at + 1], loads[at + 2]);
    const straight = loadsOf(rig);
    carry(rig);
    const turned = loadsOf(rig);
    for (let at = 0; at < straight.length; at += 3) expect(norm(turned, at)).toBeCloseTo(norm(straight, at), 9);
  });

  it('say how far a section is turned against its chord', () => {
    rest(rig);
    expect(programEnergy(rig) + account.sine).toBeLessThan(1e-12);
    disturb(rig, 0, 0.4);
    programEnergy(rig);
    expect(account.sine).toBeGreaterThan(0.2);
    expect(account.sine).toBeLessThan(Math.sin(0.4 * Math.sqrt(3)));
    rest(rig);
    motion.rates.set([0, Math.PI / SMALL, 0], 3);
    for (let k = 0; k < SMALL; k++) drift();
    programEnergy(rig);
    expect(account.sine).toBe(1);
  });

  it('are those of the linear strut where it moves little', () => {
    const moves = disturb(rig, 1e-4, 1e-5);
    const { struts } = model;
    const q = new Float64Array(6);
    for (let s = 0; s < struts.count; s++) {
      strutDeformations(rig.frame, s, motion, q);
      const [a, b] = [struts.ends[2 * s], struts.ends[2 * s + 1]];
      const axis = [0, 1, 2].map((k) => (model.reference[3 * b + k] - model.reference[3 * a + k]) / struts.numbers[20 * s + 6]);
      const e2 = [...struts.numbers.subarray(20 * s, 20 * s + 3)];
      const e3 = [...struts.numbers.subarray(20 * s + 3, 20 * s + 6)];
      const along = (x: number[], y: number[]) => x[0] * y[0] + x[1] * y[1] + x[2] * y[2];
      const shift = [0, 1, 2].map((k) => moves[6 * b + k] - moves[6 * a + k]);
      const turnOf = (v: number) => [...moves.subarray(6 * v + 3, 6 * v + 6)];
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
