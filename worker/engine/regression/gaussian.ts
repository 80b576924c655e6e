import { backward, factorise, forward, inverse } from './cholesky.ts';
import { KERNELS, type KernelName } from './kernel.ts';
import type { Predictor } from './predictor.ts';

/** Points with one number each: z is taken to have mean 0. */
export interface Samples {
  readonly points: readonly Float64Array[];
  readonly z: Float64Array;
}

/** Covariance variance (k(r) + noise [same observation]), r^2 = sum ((x - x') / length)^2: one length scale for each axis. */
export interface Hyperparameters {
  readonly kernel: KernelName;
  readonly lengths: readonly number[];
  /** Share of the variance. */
  readonly noise: number;
}

/** Below it nothing is told from rounding. */
const LEAST_VARIANCE = 1e-16;

interface Conditioned {
  readonly l: Float64Array;
  readonly alpha: Float64Array;
  readonly variance: number;
  /** ln p(z). */
  readonly likelihood: number;
}

/** Cholesky factor of the correlations and what follows from it; without a variance the likeliest is taken, z^T R^-1 z / n. null: not positive definite. */
function conditioned(samples: Samples, of: Hyperparameters, variance?: number): Conditioned | null {
  const n = samples.z.length;
  const l = correlations(samples.points, of);
  if (!factorise(l, n)) return null;
  const alpha = backward(l, forward(l, samples.z));
  const square = samples.z.reduce((sum, each, i) => sum + each * alpha[i], 0);
  const v = variance ?? Math.max(LEAST_VARIANCE, square / n);
  let halfDeterminant = 0;
  for (let i = 0; i < n; i++) halfDeterminant += Math.log(l[i * n + i]);
  return { l, alpha, variance: v, likelihood: -square / (2 * v) - halfDeterminant - (n / 2) * Math.log(2 * Math.PI * v) };
}

/** Lower triangle of R. */
function correlations(points: readonly Float64Array[], { kernel, lengths, noise }: Hyperparameters): Float64Array {
  const n = points.length;
  const { value } = KERNELS[kernel];
  const r = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) r[i * n + j] = value(squaredDistance(points[i], points[j], lengths));
    r[i * n + i] = 1 + noise;
  }
  return r;
}

function squaredDistance(a: Float64Array, b: Float64Array, lengths: readonly number[]): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) {
    const share = (a[k] - b[k]) / lengths[k];
    sum += share * share;
  }
  return sum;
}

/**
 * ln p(z) of a zero-mean Gaussian process (Rasmussen and Williams 2006, equation 5.8), and its slope by the logarithms of every length and of the noise
 * (5.9). Without a variance it is that of the likeliest variance, whose slopes are the same. null: the matrix is not positive definite.
 */
export function logMarginalLikelihood(
  samples: Samples,
  of: Hyperparameters,
  variance?: number,
): { value: number; slope: Float64Array } | null {
  const found = conditioned(samples, of, variance);
  if (!found) return null;
  const { points } = samples;
  const [n, d] = [points.length, points[0].length];
  const { alpha } = found;
  const inverted = inverse(found.l, n);
  const slope = new Float64Array(d + 1);
  const { slope: bend } = KERNELS[of.kernel];
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      const pull = (alpha[i] * alpha[j]) / found.variance - inverted[i * n + j];
      const weight = pull * bend(squaredDistance(points[i], points[j], of.lengths));
      for (let k = 0; k < d; k++) slope[k] += weight * ((points[i][k] - points[j][k]) / of.lengths[k]) ** 2;
    }
    slope[d] += (of.noise / 2) * ((alpha[i] * alpha[i]) / found.variance - inverted[i * n + i]);
  }
  return { value: found.likelihood, slope };
}

/** Mean and deviation of a new observation, its noise included (Rasmussen and Williams 2006, equations 2.25 and 2.26). null: not positive definite. */
export function gaussianProcess(samples: Samples, of: Hyperparameters, variance?: number): Predictor | null {
  const found = conditioned(samples, of, variance);
  if (!found) return null;
  const { value } = KERNELS[of.kernel];
  return (point) => {
    const near = Float64Array.from(samples.points, (each) => value(squaredDistance(point, each, of.lengths)));
    const known = forward(found.l, near).reduce((sum, each) => sum + each * each, 0);
    return {
      mean: near.reduce((sum, each, i) => sum + each * found.alpha[i], 0),
      deviation: Math.sqrt(found.variance * Math.max(of.noise, 1 + of.noise - known)),
    };
  };
}
