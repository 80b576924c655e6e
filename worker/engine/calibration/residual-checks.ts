import { normalShare } from '../probability/index.ts';
import type { Fit } from './fit.ts';
import { form } from './matrix.ts';

export interface ResidualChecks {
  /** Sum of squares of residuals over their scatters, as weighted, and how many measurements stand against how many told unknowns. */
  readonly chiSquare: number;
  readonly freedom: number;
  /** Runs of one sign in the order given (Wald and Wolfowitz 1940): z below -1.96 says that neighbours err alike; null for fewer than 10. */
  readonly runs: { readonly count: number; readonly expected: number; readonly z: number } | null;
  /** Anderson and Darling's A^2 against a normal distribution whose mean and deviation are fitted, and its probability; null for fewer than 8. */
  readonly normality: { readonly a2: number; readonly probability: number } | null;
  /** Share of its own prediction that each measurement decides (hat matrix): 1 would be met exactly. */
  readonly leverages: readonly number[];
  /** Those beyond 3 deviations: kept, weighed down. */
  readonly outliers: readonly number[];
  readonly sentences: readonly string[];
}

const OUTLIER = 3;
const Z_TWO_SIDED = 1.96;
const UNLIKELY = 0.01;
const LEAST_RUNS = 10;
const LEAST_NORMALITY = 8;
const HIGH_LEVERAGE = 0.8;

/** Whether the residuals look like what was assumed of them. */
export function checkResiduals({ residuals, weights, jacobian, covariance }: Fit): ResidualChecks {
  const leverages = jacobian.map((row, k) => weights[k] * form(row, covariance, row));
  const chiSquare = residuals.reduce((sum, r, k) => sum + weights[k] * r * r, 0);
  const freedom = residuals.length - leverages.reduce((sum, each) => sum + each, 0);
  const outliers = Array.from(residuals.keys()).filter((k) => Math.abs(residuals[k]) > OUTLIER);
  const found = { chiSquare, freedom, runs: runsOf(residuals), normality: normalityOf(residuals), leverages, outliers };
  return { ...found, sentences: inWords(found) };
}

/** Wald and Wolfowitz (1940): runs R of signs among a plus and b minus: mean 1 + 2ab/n, variance 2ab(2ab - n) / (n^2 (n - 1)). */
export function runsOf(residuals: ArrayLike<number>): ResidualChecks['runs'] {
  const signs = Array.from(residuals, Math.sign).filter((sign) => sign !== 0);
  const n = signs.length;
  const plus = signs.filter((sign) => sign > 0).length;
  const product = 2 * plus * (n - plus);
  if (n < LEAST_RUNS || product === 0) return null;
  const count = signs.filter((sign, k) => k === 0 || sign !== signs[k - 1]).length;
  const expected = 1 + product / n;
  return { count, expected, z: (count - expected) / Math.sqrt((product * (product - n)) / (n * n * (n - 1))) };
}

/** A^2 = -n - sum (2i - 1)/n (ln F_i + ln(1 - F_{n+1-i})), times 1 + 0.75/n + 2.25/n^2; probabilities by D'Agostino and Stephens (1986), table 4.9. */
export function normalityOf(residuals: ArrayLike<number>): ResidualChecks['normality'] {
  const sorted = Float64Array.from(residuals).sort();
  const n = sorted.length;
  if (n < LEAST_NORMALITY) return null;
  const mean = sorted.reduce((sum, r) => sum + r, 0) / n;
  const deviation = Math.sqrt(sorted.reduce((sum, r) => sum + (r - mean) ** 2, 0) / (n - 1));
  if (deviation === 0) return null;
  const shares = sorted.map((r) => Math.min(1 - 1e-16, Math.max(1e-300, normalShare((r - mean) / deviation))));
  let sum = 0;
  for (let i = 0; i < n; i++) sum += (2 * i + 1) * (Math.log(shares[i]) + Math.log1p(-shares[n - 1 - i]));
  const a2 = (-n - sum / n) * (1 + 0.75 / n + 2.25 / (n * n));
  return { a2, probability: probabilityOf(a2) };
}

function probabilityOf(a: number): number {
  if (a >= 0.6) return Math.exp(1.2937 - 5.709 * a + 0.0186 * a * a);
  if (a > 0.34) return Math.exp(0.9177 - 4.279 * a - 1.38 * a * a);
  if (a > 0.2) return 1 - Math.exp(-8.318 + 42.796 * a - 59.938 * a * a);
  return 1 - Math.exp(-13.436 + 101.14 * a - 223.73 * a * a);
}

function inWords({ chiSquare, freedom, runs, normality, leverages, outliers }: Omit<ResidualChecks, 'sentences'>): string[] {
  const sentences: string[] = [];
  // two deviations of chi^2 above its mean
  if (freedom >= 1 && chiSquare > freedom + 2 * Math.sqrt(2 * freedom))
    sentences.push('Measurements scatter more than was said of them; all intervals are widened by as much.');
  if (runs && runs.z < -Z_TWO_SIDED)
    sentences.push('Measurements that follow each other err alike: something changed on the way, or the model misses something.');
  if (normality && normality.probability < UNLIKELY) sentences.push('Residuals are not normal; the robust loss holds, intervals less so.');
  if (outliers.length > 0) sentences.push(`${outliers.length} measurements lie beyond three deviations; they are kept and weigh less.`);
  const alone = leverages.filter((each) => each > HIGH_LEVERAGE).length;
  if (alone > 0) sentences.push(`${alone} measurements decide their own prediction nearly alone: a mistake in them would not show.`);
  return sentences;
}
