import { describe, expect, it } from 'vitest';
import { massMatrix, NODE_UNKNOWNS, stiffnessMatrix } from '../../../worker/engine/frame/assembly.ts';
import { buckling } from '../../../worker/engine/frame/buckling.ts';
import { strutDeformation } from '../../../worker/engine/frame/section-forces.ts';
import { linearStatics } from '../../../worker/engine/frame/statics.ts';
import { strutFrame } from '../../../worker/engine/frame/strut-frame.ts';
import { vibration } from '../../../worker/engine/frame/vibration.ts';
import type { StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { multiply } from '../../../worker/engine/sparse/index.ts';
import { graphOf, seeded, turnedGraph } from '../impact/lattices.ts';
import { doubleShell } from '../lattice/samples.ts';

const ELASTIC = { modulusMPa: 60, poisson: 0.45 };
const BALL = doubleShell(1, 1, [40, 30], [4, 3.5, 3]).graph;

/** A rigid motion u + w x X of every node, over all unknowns. */
function rigid({ nodeCount, xyz }: StrutGraph, [ux, uy, uz, wx, wy, wz]: number[]): Float64Array {
  const motion = new Float64Array(NODE_UNKNOWNS * nodeCount);
  for (let v = 0; v < nodeCount; v++) {
    const [x, y, z] = xyz.subarray(3 * v, 3 * v + 3);
    motion.set([ux + wy * z - wz * y, uy + wz * x - wx * z, uz + wx * y - wy * x, wx, wy, wz], NODE_UNKNOWNS * v);
  }
  return motion;
}

/** A cantilever along x of `count` struts: diameters from d0 to d1, held at the first node. */
function cantilever(count: number, length: number, [d0, d1]: [number, number]): StrutGraph {
  const places = Array.from({ length: count + 1 }, (_, k) => [(length * k) / count, 0, 0]);
  const graph = graphOf(
    places,
    places.slice(1).map((_, k) => [k, k + 1] as const),
    d0,
  );
  for (let s = 0; s < count; s++) graph.diameters.set([d0 + ((d1 - d0) * s) / count, d0 + ((d1 - d0) * (s + 1)) / count], 2 * s);
  return graph;
}

const held = new Map([0, 1, 2, 3, 4, 5].map((k) => [k, 0]));
const tipLoad = (graph: StrutGraph, force: number[]) => {
  const load = new Float64Array(NODE_UNKNOWNS * graph.nodeCount);
  load.set(force, NODE_UNKNOWNS * (graph.nodeCount - 1));
  return load;
};
function tipOf(graph: StrutGraph, force: number[]): number[] {
  const found = linearStatics(strutFrame(graph, ELASTIC), { held, load: tipLoad(graph, force) });
  if (found.kind !== 'displaced') throw new Error(found.kind);
  return [...found.displacement.subarray(-NODE_UNKNOWNS)];
}
const FORCE = [1, 2, -1, 3, 1, 2];

describe('a frame', () => {
  it('feels no force and no deformation from a rigid motion', () => {
    const frame = strutFrame(BALL, ELASTIC);
    const K = stiffnessMatrix(frame);
    const force = new Float64Array(K.n);
    const q = new Float64Array(6);
    for (const motion of [
      [1, 2, 3, 0, 0, 0],
      [0, 0, 0, 0.1, -0.2, 0.3],
      [1, 0, 0, 0, 0, 1],
    ].map((each) => rigid(BALL, each))) {
      multiply(K, motion, force);
      // Stiffness entries are of order 1e2 and displacements of order 10: rounding leaves 1e-12 of their product.
      expect(Math.max(...force.map(Math.abs))).toBeLessThan(1e-9);
      for (let s = 0; s < BALL.strutCount; s++) {
        strutDeformation(frame, s, motion, q);
        expect(Math.max(...q.map(Math.abs))).toBeLessThan(1e-12);
      }
    }
  });

  it('weighs what its struts weigh, and turns with their inertia', () => {
    const frame = strutFrame(BALL, ELASTIC);
    const M = massMatrix(frame, { densityTMm3: 1e-9, poisson: 0.45 });
    const product = new Float64Array(M.n);
    const along = rigid(BALL, [1, 0, 0, 0, 0, 0]);
    multiply(M, along, product);
    let mass = 0;
    for (let s = 0; s < BALL.strutCount; s++) mass += (1e-9 * Math.PI * BALL.diameters[2 * s] ** 2 * frame.lengthMm[s]) / 4;
    expect(along.reduce((sum, each, k) => sum + each * product[k], 0)).toBeCloseTo(mass, 15);
    // About z: each strut's (x^2 + y^2) integrated by the midpoint rule with its own section's inertia beside it.
    const about = rigid(BALL, [0, 0, 0, 0, 0, 1]);
    multiply(M, about, product);
    let inertia = 0;
    for (let s = 0; s < BALL.strutCount; s++) {
      const [a, b] = [0, 1].map((end) => BALL.xyz.subarray(3 * BALL.ends[2 * s + end], 3 * BALL.ends[2 * s + end] + 3));
      const [line, d] = [(1e-9 * Math.PI * BALL.diameters[2 * s] ** 2) / 4, BALL.diameters[2 * s]];
      const ez = (b[2] - a[2]) / frame.lengthMm[s];
      const square = [0, 1].reduce((sum, c) => sum + (a[c] * a[c] + a[c] * b[c] + b[c] * b[c]) / 3, 0);
      inertia += line * frame.lengthMm[s] * (square + ((d * d) / 16) * (1 + ez * ez));
    }
    expect(about.reduce((sum, each, k) => sum + each * product[k], 0) / inertia).toBeCloseTo(1, 12);
  });

  it('does not change when a prismatic strut is split', () => {
    const whole = tipOf(cantilever(1, 20, [3, 3]), FORCE);
    for (const count of [2, 5])
      for (const [k, value] of tipOf(cantilever(count, 20, [3, 3]), FORCE).entries()) expect(value).toBeCloseTo(whole[k], 9);
  });

  it('does not change when a tapered strut is split', () => {
    const whole = tipOf(cantilever(1, 20, [4, 2.5]), FORCE);
    for (const [k, value] of tipOf(cantilever(4, 20, [4, 2.5]), FORCE).entries()) expect(value).toBeCloseTo(whole[k], 9);
  });

  it('gives as a staircase of prismatic struts does, at second order', () => {
    const whole = tipOf(cantilever(1, 20, [4, 2.5]), FORCE);
    const miss = [8, 16].map((count) => {
      const stairs = cantilever(count, 20, [4, 2.5]);
      for (let s = 0; s < count; s++) stairs.diameters.fill((stairs.diameters[2 * s] + stairs.diameters[2 * s + 1]) / 2, 2 * s, 2 * s + 2);
      return Math.abs(tipOf(stairs, FORCE)[1] - whole[1]);
    });
    expect(Math.log2(miss[0] / miss[1])).toBeGreaterThan(1.9);
    expect(Math.log2(miss[0] / miss[1])).toBeLessThan(2.1);
  });

  it('answers a load with equal and opposite reactions', () => {
    const graph = cantilever(3, 20, [3, 3]);
    const found = linearStatics(strutFrame(graph, ELASTIC), { held, load: tipLoad(graph, FORCE) });
    if (found.kind !== 'displaced') throw new Error(found.kind);
    const [fx, fy, fz, mx, my, mz] = FORCE;
    const expected = [-fx, -fy, -fz, -mx, -my + 20 * fz, -mz - 20 * fy];
    for (let k = 0; k < 6; k++) expect(found.reaction[k]).toBeCloseTo(expected[k], 9);
  });

  it('says which unknown tells that a body is not held', () => {
    const graph = cantilever(2, 20, [3, 3]);
    const found = linearStatics(strutFrame(graph, ELASTIC), { held: new Map([[0, 0]]), load: tipLoad(graph, FORCE) });
    // Rounding may leave a tiny positive pivot where the exact one is zero; then displacements are beyond all measure.
    if (found.kind === 'displaced') expect(Math.max(...found.displacement.map(Math.abs))).toBeGreaterThan(1e6);
    else expect(found.column).toBeGreaterThan(0);
  });

  it('has the same frequencies and buckles at the same load wherever it is turned', () => {
    const random = seeded(3);
    const [a, b, c] = [random(), random(), random()];
    const turn = ([x, y, z]: readonly number[]) => {
      const [x1, y1] = [x * Math.cos(a) - y * Math.sin(a), x * Math.sin(a) + y * Math.cos(a)];
      const [y2, z2] = [y1 * Math.cos(b) - z * Math.sin(b), y1 * Math.sin(b) + z * Math.cos(b)];
      return [x1 * Math.cos(c) - z2 * Math.sin(c), y2, x1 * Math.sin(c) + z2 * Math.cos(c)];
    };
    const lowest = (graph: StrutGraph) => {
      const frame = strutFrame(graph, ELASTIC);
      const found = vibration(stiffnessMatrix(frame), massMatrix(frame, { densityTMm3: 1.1e-9, poisson: 0.45 }), { count: 3 });
      if (found.kind !== 'vibration') throw new Error(found.kind);
      expect(found.rigidMotions).toBe(6);
      return found.frequenciesHz;
    };
    const [here, there] = [lowest(BALL), lowest(turnedGraph(BALL, turn))];
    for (let k = 0; k < 3; k++) expect(there[k] / here[k]).toBeCloseTo(1, 8);
  });

  it('does not buckle in tension', () => {
    const graph = cantilever(4, 40, [3, 3]);
    const pulled = buckling(strutFrame(graph, ELASTIC), { held, load: tipLoad(graph, [1, 0, 0, 0, 0, 0]) }, 0.45);
    expect(pulled).toMatchObject({ kind: 'buckling', factor: null });
  });
});
