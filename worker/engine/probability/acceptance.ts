import { chiSquaredTail } from './chi-squared.ts';
import { normalQuantile } from './normal-quantile.ts';
import { studentQuantile } from './student.ts';
import { oneSidedConfidence, oneSidedFactor, twoSidedConfidence, twoSidedFactor } from './tolerance-factor.ts';

/** What parts of a normal population showed, and the band (one limit at least) that is to be met. */
export interface Sample {
  readonly n: number;
  readonly mean: number;
  readonly deviation: number;
}
export interface Limits {
  readonly min: number | null;
  readonly max: number | null;
}
/** What is to be shown: that a share p of all parts lies within, or (p null) that their mean does; with so much confidence, 0 to 1. */
export interface Claim {
  readonly p: number | null;
  readonly confidence: number;
}
export type Judgement = 'accepted' | 'rejected' | 'open';

const sidesOf = ({ min, max }: Limits) => (min !== null && max !== null ? 2 : 1);

/** Distances from the mean to the limits there are, in deviations; without deviation infinitely many, or none on the limit itself. */
function distances({ mean, deviation }: Sample, { min, max }: Limits): number[] {
  const gaps = [min === null ? null : mean - min, max === null ? null : max - mean];
  return gaps.flatMap((gap) => (gap === null ? [] : gap === 0 ? 0 : gap / deviation));
}

/** Factor k of the interval mean +- k s, or on one side of it, that the claim is judged by. */
export function intervalFactor(n: number, limits: Limits, { p, confidence }: Claim): number {
  const two = sidesOf(limits) === 2;
  if (p !== null) return two ? twoSidedFactor({ n, p }, confidence) : oneSidedFactor({ n, p }, confidence);
  return studentQuantile(two ? (1 + confidence) / 2 : confidence, n - 1) / Math.sqrt(n);
}

/**
 * Accepted: the interval lies within the limits. Rejected: that the claim holds is disproved with the same confidence. For the mean, when the interval lies
 * beyond a limit. For a share p of parts, by the exact one-sided bound on the share beyond each limit and, with two limits, by the deviation,
 * which even a mean in their middle would not make up for; where three ways lead to a rejection, each takes a third of the error. Needs two parts.
 */
export function judged(sample: Sample, limits: Limits, claim: Claim): Judgement {
  const { p, confidence } = claim;
  const away = distances(sample, limits);
  const nearest = Math.min(...away);
  if (p === null) {
    const k = intervalFactor(sample.n, limits, claim);
    if (nearest >= k) return 'accepted';
    return nearest < -k ? 'rejected' : 'open';
  }
  const coverage = { n: sample.n, p };
  const shown = away.length === 2 ? twoSidedConfidence(nearest, coverage) : oneSidedConfidence(nearest, coverage);
  if (shown >= confidence) return 'accepted';
  const error = (1 - confidence) / (away.length === 2 ? 3 : 1);
  if (oneSidedConfidence(nearest, coverage) <= error) return 'rejected';
  return away.length === 2 && tooWide(sample, limits, p) <= error ? 'rejected' : 'open';
}

/** Chance of a deviation as large as this, or larger, where a share p just fits between two limits. */
function tooWide({ n, deviation }: Sample, { min, max }: Limits, p: number): number {
  const most = (max! - min!) / 2 / normalQuantile((1 + p) / 2);
  if (most === 0) return 0;
  return chiSquaredTail(((n - 1) * deviation * deviation) / (most * most), n - 1);
}

/** Parts beyond those there are until the claim is decided, if mean and deviation stay; null beyond `most` parts in all. */
export function furtherParts(sample: Sample, limits: Limits, claim: Claim, most = 1000): number | null {
  const decided = (n: number) => judged({ ...sample, n }, limits, claim) !== 'open';
  if (!decided(most)) return null;
  let [few, enough] = [sample.n, most];
  while (enough - few > 1) {
    const middle = (few + enough) >> 1;
    if (decided(middle)) enough = middle;
    else few = middle;
  }
  return enough - sample.n;
}
