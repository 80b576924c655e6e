import { EigenvalueDecomposition, Matrix } from 'ml-matrix';

/** Steps below this length (unit sphere) end the iteration: rounding stops smaller ones. */
const STEP_LIMIT = 1e-12;
const MAX_STEPS = 60;
/** Eigenvalues of J J^T below this share of the largest are its null space (the mean of the quantities is always one of them). */
const RANK_LIMIT = 1e-11;

/** Points on the unit sphere, and quantities of them that are to become equal. */
export interface Evening {
  readonly points: Float64Array;
  /** Representative of each point's orbit under the group, and the rotation that carries the representative to it. */
  readonly pointOrbit: Int32Array;
  readonly pointRotation: Int32Array;
  /** The group's matrices, row-major, 9 each. */
  readonly rotations: Float64Array;
  /** Representative of each quantity's orbit. */
  readonly quantityOrbit: Int32Array;
  value(quantity: number, points: Float64Array): number;
  /** Calls `add` with the gradient of a quantity with respect to each point it depends on. */
  gradient(quantity: number, points: Float64Array, add: (point: number, x: number, y: number, z: number) => void): void;
  /** Called at every step; may throw. */
  poll?(): void;
}

/**
 * Moves points on the unit sphere until all quantities are equal, as far as the freedoms allow: limit of minimum-norm Gauss-Newton steps on
 * q / mean(q) - 1 over tangent displacements, each followed by projection to the sphere. The step of a symmetric arrangement is symmetric, so it
 * is solved on one point and one quantity per orbit (quantities weighted by the root of their orbit's size) and carried to the rest by rotation:
 * the symmetry group is kept exactly. Returns the moved points and what remains, max |q / mean(q) - 1|.
 */
export function even(problem: Evening): { points: Float64Array; residual: number } {
  const reduced = reduce(problem);
  const points = Float64Array.from(problem.points);
  for (let step = 0; step < MAX_STEPS; step++) {
    problem.poll?.();
    const bases = tangentBases(reduced.free, points);
    const { residual, jacobian } = linearise(problem, reduced, points, bases);
    if (applyStep(problem, reduced, points, bases, minimumNormStep(jacobian, residual)) < STEP_LIMIT) break;
  }
  return { points, residual: largestResidual(problem, points) };
}

interface Reduced {
  /** Representative points that may move (those on an axis of symmetry may not), and the column of each representative (-1: fixed). */
  readonly free: readonly number[];
  readonly column: Int32Array;
  /** Representative quantities and the size of their orbits. */
  readonly quantities: readonly number[];
  readonly weight: readonly number[];
}

function reduce({ pointOrbit, rotations, quantityOrbit }: Evening): Reduced {
  const order = rotations.length / 9;
  const pointSize = sizes(pointOrbit);
  const column = new Int32Array(pointOrbit.length).fill(-1);
  const free: number[] = [];
  pointSize.forEach((size, p) => {
    if (size === order) column[p] = 2 * (free.push(p) - 1);
  });
  const quantitySize = sizes(quantityOrbit);
  const quantities = [...quantitySize.keys()].filter((q) => quantitySize[q] > 0);
  return { free, column, quantities, weight: quantities.map((q) => quantitySize[q]) };
}

/** Size of each orbit at its representative, 0 elsewhere. */
function sizes(orbit: Int32Array): Int32Array {
  const size = new Int32Array(orbit.length);
  for (const representative of orbit) size[representative]++;
  return size;
}

/** Two unit vectors at right angles to each free representative and to each other, 6 numbers a point. */
function tangentBases(free: readonly number[], points: Float64Array): Float64Array {
  const bases = new Float64Array(6 * free.length);
  free.forEach((p, f) => {
    const [x, y, z] = points.subarray(3 * p, 3 * p + 3);
    const least = Math.min(Math.abs(x), Math.abs(y), Math.abs(z));
    const k = [x, y, z].findIndex((c) => Math.abs(c) === least);
    const u = [x, y, z].map((c, i) => (i === k ? 1 : 0) - c * [x, y, z][k]);
    const length = Math.hypot(...u);
    const [a, b, c] = u.map((each) => each / length);
    bases.set([a, b, c, y * c - z * b, z * a - x * c, x * b - y * a], 6 * f);
  });
  return bases;
}

/** Residuals and Jacobian on one quantity per orbit, rows weighted by the root of the orbit's size. */
function linearise(problem: Evening, { free, column, quantities, weight }: Reduced, points: Float64Array, bases: Float64Array) {
  const total = weight.reduce((sum, w) => sum + w, 0);
  const values = quantities.map((q) => problem.value(q, points));
  const mean = values.reduce((sum, value, k) => sum + value * weight[k], 0) / total;
  const jacobian = new Matrix(quantities.length, 2 * free.length);
  quantities.forEach((q, row) => {
    problem.gradient(q, points, (point, x, y, z) => addSlopes(problem, column, bases, point, [x, y, z], jacobian, row));
  });
  const meanSlope = new Float64Array(jacobian.columns);
  for (let row = 0; row < jacobian.rows; row++) {
    for (let c = 0; c < jacobian.columns; c++) meanSlope[c] += (weight[row] / total) * jacobian.get(row, c);
  }
  const residual = new Float64Array(jacobian.rows);
  for (let row = 0; row < jacobian.rows; row++) {
    const root = Math.sqrt(weight[row]);
    residual[row] = root * (values[row] / mean - 1);
    for (let c = 0; c < jacobian.columns; c++) {
      jacobian.set(row, c, (root * (jacobian.get(row, c) - (values[row] / mean) * meanSlope[c])) / mean);
    }
  }
  return { residual, jacobian };
}

/** A point is g times its representative, so its displacement is g times that one's. */
function addSlopes(
  problem: Evening,
  column: Int32Array,
  bases: Float64Array,
  point: number,
  slope: number[],
  into: Matrix,
  row: number,
): void {
  const at = column[problem.pointOrbit[point]];
  if (at < 0) return;
  const g = 9 * problem.pointRotation[point];
  for (let t = 0; t < 2; t++) {
    let sum = 0;
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j < 3; j++) sum += slope[i] * problem.rotations[g + 3 * i + j] * bases[3 * at + 3 * t + j];
    }
    into.set(row, at + t, into.get(row, at + t) + sum);
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

/** Moves the representatives, projects them to the sphere and carries every other point along. Returns the longest move. */
function applyStep(problem: Evening, { free, column }: Reduced, points: Float64Array, bases: Float64Array, move: Float64Array): number {
  let longest = 0;
  free.forEach((p, f) => {
    const [a, b] = [move[2 * f], move[2 * f + 1]];
    longest = Math.max(longest, Math.hypot(a, b));
    const moved = [0, 1, 2].map((k) => points[3 * p + k] + a * bases[6 * f + k] + b * bases[6 * f + 3 + k]);
    const length = Math.hypot(...moved);
    for (let k = 0; k < 3; k++) points[3 * p + k] = moved[k] / length;
  });
  const { pointOrbit, pointRotation, rotations } = problem;
  pointOrbit.forEach((representative, p) => {
    if (representative === p || column[representative] < 0) return;
    const [g, from] = [9 * pointRotation[p], 3 * representative];
    for (let i = 0; i < 3; i++) {
      points[3 * p + i] =
        rotations[g + 3 * i] * points[from] + rotations[g + 3 * i + 1] * points[from + 1] + rotations[g + 3 * i + 2] * points[from + 2];
    }
  });
  return longest;
}

function largestResidual({ quantityOrbit, value }: Evening, points: Float64Array): number {
  const values = Float64Array.from(quantityOrbit, (_, q) => value(q, points));
  const mean = values.reduce((sum, each) => sum + each, 0) / values.length;
  return values.reduce((worst, each) => Math.max(worst, Math.abs(each / mean - 1)), 0);
}
