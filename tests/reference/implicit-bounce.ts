import { strutDeformations } from '../../worker/engine/frame/large-strut.ts';
import type { ElasticFrame, Relaxation } from '../../worker/engine/impact/index.ts';

/**
 * A second, independent way to compute a bounce: the implicit midpoint rule with Newton's method, the derivatives of every strut's deformations by central
 * differences, branches by the same midpoint rule. Only the definition of the deformations is shared (and tested elsewhere); masses and floor are given.
 */
export interface ImplicitBounce {
  readonly frame: ElasticFrame;
  readonly relaxation: Relaxation;
  /** Per node: tonne, tonne mm2, N/mm of the floor at z = 0 under a sphere of the graph's radius. */
  readonly mass: Float64Array;
  readonly inertia: Float64Array;
  readonly stiffness: Float64Array;
  readonly gravityMmS2: number;
  /** Places at the touch, turned from the reference by this rotation (row-major). */
  readonly positions: Float64Array;
  readonly turn: readonly number[];
  readonly speedMmS: number;
  readonly stepS: number;
}

export interface ImplicitResult {
  readonly contactTimeS: number;
  /** Of the centre of mass where the floor is left. */
  readonly velocity: readonly number[];
  readonly riseMm: number;
}

/** Bounces until the body rises and the floor has not been touched for a tenth of the contact time. */
export function implicitBounce(setup: ImplicitBounce): ImplicitResult {
  const { frame, relaxation, mass, inertia, stiffness, gravityMmS2, stepS: h } = setup;
  const { graph } = frame;
  const [nodes, struts] = [graph.nodeCount, graph.strutCount];
  const n = 6 * nodes;
  const branches = relaxation.branches.map(({ ratio, timeS }) => ({ ratio, decay: 1 / (1 + h / (2 * timeS)) }));
  const stiff = branches.reduce((sum, { ratio, decay }) => sum + ratio * decay, 1);
  const inertial = Float64Array.from({ length: n }, (_, k) => (k % 6 < 3 ? mass : inertia)[Math.floor(k / 6)]);

  const start = { positions: setup.positions.slice(), rotations: new Float64Array(9 * nodes) };
  for (let v = 0; v < nodes; v++) start.rotations.set(setup.turn, 9 * v);
  const middle = { positions: start.positions.slice(), rotations: start.rotations.slice() };
  const rates = new Float64Array(n);
  for (let v = 0; v < nodes; v++) rates[6 * v + 2] = -setup.speedMmS;
  // Deformations at the start of the step, and what each branch's spring holds then and at the middle.
  const q0 = new Float64Array(6 * struts);
  const held = branches.map(() => new Float64Array(6 * struts));
  const heldMiddle = branches.map(() => new Float64Array(6 * struts));
  const [residual, move, matrix] = [new Float64Array(n), new Float64Array(n), new Float64Array(n * n)];
  const [q, shifted, total, J] = [new Float64Array(6), new Float64Array(6), new Float64Array(6), new Float64Array(72)];

  /** The state after a share of the step's move (shift and rotation vector of every node). */
  function place(share: number, into: typeof middle): void {
    for (let v = 0; v < nodes; v++) {
      for (let k = 0; k < 3; k++) into.positions[3 * v + k] = start.positions[3 * v + k] + share * move[6 * v + k];
      rotate(
        start.rotations,
        9 * v,
        [3, 4, 5].map((k) => share * move[6 * v + k]),
        into.rotations,
      );
    }
  }

  /** J: derivatives of strut s's deformations by its 12 coordinates at the middle. */
  function differentiate(s: number): void {
    const d = 1e-6;
    for (let c = 0; c < 12; c++) {
      const node = graph.ends[2 * s + (c < 6 ? 0 : 1)];
      const k = c % 6;
      for (const side of [1, -1]) {
        const [place, kept] = [middle.positions[3 * node + (k % 3)], middle.rotations.slice(9 * node, 9 * node + 9)];
        if (k < 3) middle.positions[3 * node + k] += side * d;
        else
          rotate(
            kept,
            0,
            [3, 4, 5].map((axis) => (axis === k ? side * d : 0)),
            middle.rotations,
            9 * node,
          );
        strutDeformations(frame, s, middle, shifted);
        middle.positions[3 * node + (k % 3)] = place;
        middle.rotations.set(kept, 9 * node);
        for (let i = 0; i < 6; i++) J[12 * i + c] = (side === 1 ? 0 : J[12 * i + c]) + (side * shifted[i]) / (2 * d);
      }
    }
  }

  /** Residual of the midpoint rule, 2 M (move / h - rates) / h - load, and with `tangent` the matrix of its derivatives (K of the branches' step, J' K J). */
  function assemble(tangent: boolean): void {
    for (let k = 0; k < n; k++)
      residual[k] = (2 * inertial[k] * (move[k] / h - rates[k])) / h + (k % 6 === 2 ? inertial[k] * gravityMmS2 : 0);
    if (tangent) {
      matrix.fill(0);
      for (let k = 0; k < n; k++) matrix[n * k + k] = (2 * inertial[k]) / (h * h);
    }
    for (let v = 0; v < nodes; v++) {
      const gap = middle.positions[3 * v + 2] - graph.nodeRadius[v];
      if (gap >= 0) continue;
      residual[6 * v + 2] += stiffness[v] * gap;
      if (tangent) matrix[(n + 1) * (6 * v + 2)] += stiffness[v] / 2;
    }
    for (let s = 0; s < struts; s++) addStrut(s, tangent);
  }

  function addStrut(s: number, tangent: boolean): void {
    strutDeformations(frame, s, middle, q);
    total.set(q);
    branches.forEach(({ ratio, decay }, b) => {
      for (let i = 0; i < 6; i++) {
        heldMiddle[b][6 * s + i] = decay * (held[b][6 * s + i] + q[i] - q0[6 * s + i]);
        total[i] += ratio * heldMiddle[b][6 * s + i];
      }
    });
    differentiate(s);
    const K = natural(frame.natural, s);
    const at = (c: number) => 6 * graph.ends[2 * s + (c < 6 ? 0 : 1)] + (c % 6);
    const KJ = new Float64Array(72);
    for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) for (let c = 0; c < 12; c++) KJ[12 * i + c] += K[6 * i + j] * J[12 * j + c];
    for (let c = 0; c < 12; c++) for (let i = 0; i < 6; i++) residual[at(c)] += KJ[12 * i + c] * total[i];
    if (!tangent) return;
    for (let c = 0; c < 12; c++)
      for (let r = 0; r < 12; r++) for (let i = 0; i < 6; i++) matrix[n * at(r) + at(c)] += (stiff / 2) * J[12 * i + r] * KJ[12 * i + c];
  }

  const centre = () =>
    [0, 1, 2].map((k) => mass.reduce((sum, m, v) => sum + m * start.positions[3 * v + k], 0) / mass.reduce((a, b) => a + b));
  const height = centre()[2];
  let contactTimeS = 0;
  for (let step = 0; step < 5000; step++) {
    for (let k = 0; k < n; k++) move[k] = h * rates[k];
    for (let iteration = 0; ; iteration++) {
      place(0.5, middle);
      assemble(iteration % 4 === 0);
      if (iteration % 4 === 0) factorise(matrix, n);
      const size = solve(matrix, n, residual);
      for (let k = 0; k < n; k++) move[k] -= residual[k];
      if (size < 1e-7) break;
      if (iteration > 60) throw new Error(`step ${step} does not converge: ${size}`);
    }
    place(0.5, middle);
    const touching = graph.nodeRadius.some((radius, v) => middle.positions[3 * v + 2] < radius);
    if (touching) contactTimeS = (step + 1) * h;
    for (let k = 0; k < n; k++) rates[k] = (2 * move[k]) / h - rates[k];
    place(1, middle);
    start.positions.set(middle.positions);
    start.rotations.set(middle.rotations);
    held.forEach((list, b) => list.forEach((each, k) => (list[k] = 2 * heldMiddle[b][k] - each)));
    for (let s = 0; s < struts; s++) strutDeformations(frame, s, start, q0.subarray(6 * s, 6 * s + 6));
    const rising = mass.reduce((sum, m, v) => sum + m * rates[6 * v + 2], 0) > 0;
    if (!touching && rising && (step + 1) * h > 1.1 * contactTimeS) break;
  }
  const massOfAll = mass.reduce((a, b) => a + b);
  const velocity = [0, 1, 2].map((k) => mass.reduce((sum, m, v) => sum + m * rates[6 * v + k], 0) / massOfAll);
  return { contactTimeS, velocity, riseMm: centre()[2] - height };
}

/** to <- exp(w) from, row-major (Rodrigues). */
function rotate(from: Float64Array, at: number, w: readonly number[], to: Float64Array, into = at): void {
  const angle = Math.hypot(...w);
  const s = angle > 1e-8 ? Math.sin(angle) / angle : 1;
  const c = angle > 1e-8 ? (1 - Math.cos(angle)) / angle ** 2 : 0.5;
  for (let j = 0; j < 3; j++) {
    const x = [from[at + j], from[at + 3 + j], from[at + 6 + j]];
    const cross = (a: readonly number[], b: readonly number[]) => [
      a[1] * b[2] - a[2] * b[1],
      a[2] * b[0] - a[0] * b[2],
      a[0] * b[1] - a[1] * b[0],
    ];
    const once = cross(w, x);
    const twice = cross(w, once);
    for (let i = 0; i < 3; i++) to[into + 3 * i + j] = x[i] + s * once[i] + c * twice[i];
  }
}

/** The 6 x 6 natural stiffness of strut s: stretch, four bending rotations, twist. */
function natural(numbers: Float64Array, s: number): Float64Array {
  const K = new Float64Array(36);
  K[0] = numbers[12 * s];
  K[35] = numbers[12 * s + 1];
  let next = 12 * s + 2;
  for (let i = 1; i < 5; i++) for (let j = i; j < 5; j++) K[6 * i + j] = K[6 * j + i] = numbers[next++];
  return K;
}

/** Cholesky factor of a symmetric matrix in its lower triangle, in place. */
function factorise(A: Float64Array, n: number): void {
  for (let j = 0; j < n; j++) {
    for (let i = j; i < n; i++) {
      let sum = A[n * i + j];
      for (let k = 0; k < j; k++) sum -= A[n * i + k] * A[n * j + k];
      A[n * i + j] = i === j ? Math.sqrt(sum) : sum / A[n * j + j];
    }
  }
}

/** x <- A^-1 x by the factor; answers the largest component (mm or rad). */
function solve(A: Float64Array, n: number, x: Float64Array): number {
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i] -= A[n * i + k] * x[k];
    x[i] /= A[n * i + i];
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i] -= A[n * k + i] * x[k];
    x[i] /= A[n * i + i];
  }
  return x.reduce((most, each) => Math.max(most, Math.abs(each)), 0);
}
