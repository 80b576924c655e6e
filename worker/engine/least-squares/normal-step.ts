import { Matrix, solve } from 'ml-matrix';

/** J^T J and J^T r of residuals r (m) and a Jacobian J (m rows of n). */
export function normalEquations(
  jacobian: readonly Float64Array[],
  residuals: Float64Array,
): { gram: Float64Array[]; gradient: Float64Array } {
  const n = jacobian[0]?.length ?? 0;
  const gram = Array.from({ length: n }, () => new Float64Array(n));
  const gradient = new Float64Array(n);
  jacobian.forEach((row, i) => {
    for (let j = 0; j < n; j++) {
      gradient[j] += row[j] * residuals[i];
      for (let k = 0; k <= j; k++) gram[j][k] += row[j] * row[k];
    }
  });
  for (let j = 0; j < n; j++) for (let k = 0; k < j; k++) gram[k][j] = gram[j][k];
  return { gram, gradient };
}

/** Least scale of a direction that the residuals do not feel, as a share of the one they feel most. */
const LEAST_SCALE = 1e-12;

/**
 * Levenberg and Marquardt's step: (J^T J + damping D) p = -J^T r over the free variables, D the diagonal of J^T J, 0 elsewhere. `predicted`: by how much
 * half the sum of squares is to fall.
 */
export function dampedStep(
  { gram, gradient }: ReturnType<typeof normalEquations>,
  free: readonly number[],
  damping: number,
): { step: Float64Array; predicted: number } {
  const step = new Float64Array(gradient.length);
  if (free.length === 0) return { step, predicted: 0 };
  const largest = Math.max(...free.map((j) => gram[j][j]));
  const scale = (j: number) => Math.max(gram[j][j], LEAST_SCALE * largest) || 1;
  const system = new Matrix(free.map((j) => free.map((k) => gram[j][k] + (j === k ? damping * scale(j) : 0))));
  const right = Matrix.columnVector(free.map((j) => -gradient[j]));
  const solved = solve(system, right, damping === 0);
  free.forEach((j, at) => {
    step[j] = solved.get(at, 0);
  });
  let predicted = 0;
  for (const j of free) predicted -= step[j] * (gradient[j] + 0.5 * free.reduce((sum, k) => sum + gram[j][k] * step[k], 0));
  return { step, predicted };
}
