import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import type { Tiling } from './tiling.ts';

/** Steps below this length (unit sphere) end the iteration: rounding stops smaller ones. */
const STEP_LIMIT = 1e-12;
const MAX_STEPS = 60;
/** Eigenvalues of J J^T below this share of the largest are its null space (the lengths' mean is always one of them). */
const RANK_LIMIT = 1e-11;

/**
 * Moves the nodes on the unit sphere until all edges are equally long, as far as the freedoms allow: limit of minimum-norm Gauss-Newton steps
 * on L / mean(L) - 1 over tangent displacements, each followed by projection to the sphere. The step of a symmetric tiling is symmetric, so it
 * is solved on one node and one edge per orbit (edges weighted by the root of their orbit's size) and carried to the rest by rotation: the
 * symmetry group is kept exactly. What remains is reported as `relaxationResidual` = max |L / mean(L) - 1|.
 */
export function equalEdges(tiling: Tiling): Tiling {
  const problem = reduce(tiling);
  const xyz = Float64Array.from(tiling.xyz);
  for (let step = 0; step < MAX_STEPS; step++) {
    const { residual, jacobian, bases } = linearise(tiling, problem, xyz);
    const move = minimumNormStep(jacobian, residual);
    const longest = applyStep(tiling, problem, xyz, bases, move);
    if (longest < STEP_LIMIT) break;
  }
  return { ...tiling, xyz, relaxationResidual: largestResidual(tiling, xyz) };
}

interface Reduced {
  /** Representative nodes that may move (those on a three-fold axis may not), and their column of each node (-1: fixed). */
  readonly free: readonly number[];
  readonly column: Int32Array;
  /** Representative edges and the number of edges in their orbits. */
  readonly edges: readonly number[];
  readonly weight: readonly number[];
}

function reduce({ symmetry, nodeCount, edgeCount }: Tiling): Reduced {
  const orbitSize = new Int32Array(nodeCount);
  for (let v = 0; v < nodeCount; v++) orbitSize[symmetry.nodeOrbit[v]]++;
  const free: number[] = [];
  const column = new Int32Array(nodeCount).fill(-1);
  for (let v = 0; v < nodeCount; v++) if (orbitSize[v] === 60) column[v] = 2 * (free.push(v) - 1);
  const edgeSize = new Int32Array(edgeCount);
  for (let e = 0; e < edgeCount; e++) edgeSize[symmetry.edgeOrbit[e]]++;
  const edges = [...edgeSize.keys()].filter((e) => edgeSize[e] > 0);
  return { free, column, edges, weight: edges.map((e) => edgeSize[e]) };
}

/** Two unit vectors at right angles to each free representative and to each other, 6 numbers a node. */
function tangentBases(free: readonly number[], xyz: Float64Array): Float64Array {
  const bases = new Float64Array(6 * free.length);
  free.forEach((v, f) => {
    const [x, y, z] = xyz.subarray(3 * v, 3 * v + 3);
    const least = Math.min(Math.abs(x), Math.abs(y), Math.abs(z));
    const k = [x, y, z].findIndex((c) => Math.abs(c) === least);
    const u = [x, y, z].map((c, i) => (i === k ? 1 : 0) - c * [x, y, z][k]);
    const length = Math.hypot(...u);
    const [a, b, c] = u.map((each) => each / length);
    bases.set([a, b, c, y * c - z * b, z * a - x * c, x * b - y * a], 6 * f);
  });
  return bases;
}

/** Residuals and Jacobian on one edge per orbit, rows weighted by the root of the orbit's size. */
function linearise(tiling: Tiling, problem: Reduced, xyz: Float64Array) {
  const bases = tangentBases(problem.free, xyz);
  const total = problem.weight.reduce((sum, w) => sum + w, 0);
  const lengths = problem.edges.map((e) => edgeVector(tiling, xyz, e).length);
  const mean = lengths.reduce((sum, length, k) => sum + length * problem.weight[k], 0) / total;
  const slopes = new Matrix(problem.edges.length, 2 * problem.free.length);
  problem.edges.forEach((e, row) => addSlopes(slopes, row, tiling, problem, xyz, bases, e));
  const meanSlope = new Float64Array(slopes.columns);
  for (let row = 0; row < slopes.rows; row++) {
    for (let c = 0; c < slopes.columns; c++) meanSlope[c] += (problem.weight[row] / total) * slopes.get(row, c);
  }
  const residual = new Float64Array(slopes.rows);
  for (let row = 0; row < slopes.rows; row++) {
    const root = Math.sqrt(problem.weight[row]);
    residual[row] = root * (lengths[row] / mean - 1);
    for (let c = 0; c < slopes.columns; c++)
      slopes.set(row, c, (root * (slopes.get(row, c) - (lengths[row] / mean) * meanSlope[c])) / mean);
  }
  return { residual, jacobian: slopes, bases };
}

function edgeVector({ edges }: Tiling, xyz: Float64Array, e: number): { vector: number[]; length: number } {
  const [a, b] = [3 * edges[2 * e], 3 * edges[2 * e + 1]];
  const vector = [0, 1, 2].map((k) => xyz[b + k] - xyz[a + k]);
  return { vector, length: Math.hypot(...vector) };
}

/** d L / d (tangent coordinates of the representatives): a node is g times its representative, so its displacement is g times that one's. */
function addSlopes(slopes: Matrix, row: number, tiling: Tiling, problem: Reduced, xyz: Float64Array, bases: Float64Array, e: number): void {
  const { nodeOrbit, nodeRotation, rotations } = tiling.symmetry;
  const { vector, length } = edgeVector(tiling, xyz, e);
  for (const [end, sign] of [
    [0, -1],
    [1, 1],
  ]) {
    const node = tiling.edges[2 * e + end];
    const column = problem.column[nodeOrbit[node]];
    if (column < 0) continue;
    const g = 9 * nodeRotation[node];
    for (let t = 0; t < 2; t++) {
      let slope = 0;
      for (let i = 0; i < 3; i++) {
        for (let j = 0; j < 3; j++) slope += vector[i] * rotations[g + 3 * i + j] * bases[3 * column + 3 * t + j];
      }
      slopes.set(row, column + t, slopes.get(row, column + t) + (sign * slope) / length);
    }
  }
}

/** x = -J^T (J J^T)^+ r, the shortest of the least-squares solutions of J x = -r. */
function minimumNormStep(jacobian: Matrix, residual: Float64Array): Float64Array {
  if (jacobian.columns === 0) return new Float64Array(0);
  const transpose = jacobian.transpose();
  const { realEigenvalues: values, eigenvectorMatrix: vectors } = new EigenvalueDecomposition(jacobian.mmul(transpose), {
    assumeSymmetric: true,
  });
  const limit = RANK_LIMIT * Math.max(...values);
  const along = vectors.transpose().mmul(Matrix.columnVector(residual));
  for (let k = 0; k < values.length; k++) along.set(k, 0, values[k] > limit ? along.get(k, 0) / values[k] : 0);
  return Float64Array.from(transpose.mmul(vectors.mmul(along)).to1DArray(), (x) => -x);
}

/** Moves the representatives, projects them to the sphere and carries every other node along. Returns the longest move. */
function applyStep(tiling: Tiling, { free, column }: Reduced, xyz: Float64Array, bases: Float64Array, move: Float64Array): number {
  let longest = 0;
  free.forEach((v, f) => {
    const [a, b] = [move[2 * f], move[2 * f + 1]];
    longest = Math.max(longest, Math.hypot(a, b));
    const p = [0, 1, 2].map((k) => xyz[3 * v + k] + a * bases[6 * f + k] + b * bases[6 * f + 3 + k]);
    const length = Math.hypot(...p);
    for (let k = 0; k < 3; k++) xyz[3 * v + k] = p[k] / length;
  });
  const { nodeOrbit, nodeRotation, rotations } = tiling.symmetry;
  for (let v = 0; v < tiling.nodeCount; v++) {
    const from = 3 * nodeOrbit[v];
    if (nodeOrbit[v] === v || column[nodeOrbit[v]] < 0) continue;
    const g = 9 * nodeRotation[v];
    for (let i = 0; i < 3; i++)
      xyz[3 * v + i] =
        rotations[g + 3 * i] * xyz[from] + rotations[g + 3 * i + 1] * xyz[from + 1] + rotations[g + 3 * i + 2] * xyz[from + 2];
  }
  return longest;
}

function largestResidual(tiling: Tiling, xyz: Float64Array): number {
  const lengths = Float64Array.from({ length: tiling.edgeCount }, (_, e) => edgeVector(tiling, xyz, e).length);
  const mean = lengths.reduce((sum, length) => sum + length, 0) / lengths.length;
  return lengths.reduce((worst, length) => Math.max(worst, Math.abs(length / mean - 1)), 0);
}
