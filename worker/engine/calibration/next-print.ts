import { deviates } from '../probability/index.ts';
import { inverse, type Square } from './matrix.ts';
import { lnSlopes, predict } from './predict.ts';
import { lnPredicted, type VersionResponse } from './response.ts';
import { BOUNDS, UNKNOWNS } from './unknowns.ts';

/** A version that could be printed. */
export interface Candidate {
  readonly id: string;
  readonly response: VersionResponse;
}
export interface Aim {
  readonly quantity: string;
  readonly min?: number;
  readonly target?: number;
  readonly max?: number;
}
/** How a part of a quantity would be measured, percent. */
export interface Noise {
  readonly scatterPct: number;
  readonly biasPct: number;
}

export interface Judged {
  readonly id: string;
  /** Chance that a mean part of it meets all aims, for what is not known of the unknowns. */
  readonly meetsAll: number;
  /** By aim: the chance, and the root mean square distance from the middle of its band in half widths. */
  readonly aims: readonly { readonly quantity: string; readonly chance: number; readonly predicted: number; readonly distance: number }[];
  /** Root of the mean of the squared distances: 0 is the middle of every band. */
  readonly distance: number;
  /** By how much one measured print of it would lower what is uncertain: ln of the ratio of volumes of the unknowns' posterior, in bits. */
  readonly bits: number;
}

const DRAWS = 2000;

/** Judges candidates: chances over seeded draws of the unknowns' posterior, information from the posterior's covariance after one more print (Lindley 1956). */
export function judgeCandidates(
  candidates: readonly Candidate[],
  aims: readonly Aim[],
  { x, covariance }: { readonly x: ArrayLike<number>; readonly covariance: Square },
  noise: Readonly<Record<string, Noise>>,
  seed = 1,
): Judged[] {
  const own = UNKNOWNS.map((_, j) => covariance[j].slice(0, UNKNOWNS.length));
  const draws = drawsOf(x, own, seed);
  return candidates.map(({ id, response }) => {
    const judged = aims.filter(({ quantity }) => response.quantities[quantity]);
    const within = draws.map((at) =>
      judged.map((aim) => {
        const value = Math.exp(lnPredicted(response, aim.quantity, at));
        const [low, high] = bandOf(aim);
        return value >= low && value <= high;
      }),
    );
    const found = judged.map((aim, k) => {
      const { value, standardError } = predict(response, aim.quantity, { x, covariance });
      const [low, high] = bandOf(aim);
      const middle = aim.target ?? (Number.isFinite(low + high) ? (low + high) / 2 : Math.min(Math.max(value, low), high));
      const half = Number.isFinite(high - low) && high > low ? (high - low) / 2 : 0.05 * Math.abs(middle);
      const distance = Math.hypot(value - middle, standardError) / half;
      return { quantity: aim.quantity, chance: within.filter((each) => each[k]).length / DRAWS, predicted: value, distance };
    });
    return {
      id,
      meetsAll: judged.length === aims.length ? within.filter((each) => each.every(Boolean)).length / DRAWS : 0,
      aims: found,
      distance: Math.sqrt(found.reduce((sum, each) => sum + each.distance ** 2, 0) / Math.max(1, found.length)),
      bits: bitsOf(response, own, x, noise),
    };
  });
}

const bandOf = ({ min, max, target }: Aim): readonly [number, number] =>
  min === undefined && max === undefined
    ? [target! - 1e-9, target! + 1e-9]
    : [min ?? Number.NEGATIVE_INFINITY, max ?? Number.POSITIVE_INFINITY];

/** Points of the posterior, x + L z with the Cholesky factor L, kept within the bounds. */
function drawsOf(x: ArrayLike<number>, covariance: Square, seed: number): Float64Array[] {
  const factor = choleskyOf(covariance);
  const { normal } = deviates(seed, 0);
  return Array.from({ length: DRAWS }, () => {
    const z = UNKNOWNS.map(() => normal());
    return Float64Array.from(UNKNOWNS, (_, j) => {
      const value = x[j] + factor[j].reduce((sum, each, k) => sum + each * z[k], 0);
      return Math.min(BOUNDS.upper[j], Math.max(BOUNDS.lower[j], value));
    });
  });
}

/** Lower triangle L with L L' = matrix, positive definite. */
function choleskyOf(matrix: Square): number[][] {
  const factor = matrix.map(() => new Array<number>(matrix.length).fill(0));
  for (let j = 0; j < matrix.length; j++)
    for (let k = 0; k <= j; k++) {
      let sum = matrix[j][k];
      for (let i = 0; i < k; i++) sum -= factor[j][i] * factor[k][i];
      factor[j][k] = j === k ? Math.sqrt(Math.max(sum, 0)) : factor[k][k] > 0 ? sum / factor[k][k] : 0;
    }
  return factor;
}

/** Half of log2 of the ratio of determinants of the covariance before and after all noted quantities of one print are measured, one at a time. */
function bitsOf(response: VersionResponse, before: Square, x: ArrayLike<number>, noise: Readonly<Record<string, Noise>>): number {
  const information = inverse(before).map((row) => [...row]);
  let log = 0;
  for (const [quantity, { scatterPct, biasPct }] of Object.entries(noise)) {
    if (!response.quantities[quantity]) continue;
    const slopes = lnSlopes(response, quantity, x);
    const variance = (scatterPct ** 2 + biasPct ** 2) / 1e4;
    // the matrix determinant lemma: one rank-one update at a time
    const covariance = inverse(information);
    const felt = slopes.reduce((sum, a, j) => sum + a * covariance[j].reduce((inner, c, k) => inner + c * slopes[k], 0), 0);
    log += Math.log2(1 + felt / variance);
    for (let j = 0; j < slopes.length; j++) for (let k = 0; k < slopes.length; k++) information[j][k] += (slopes[j] * slopes[k]) / variance;
  }
  return log / 2;
}

export interface NextPrint {
  /** null: no candidates. */
  readonly closest: Judged | null;
  readonly mostInformative: Judged | null;
  readonly advised: string | null;
  readonly why: 'closest' | 'informative' | null;
  readonly reasons: readonly string[];
}

/** From here on a print is likely enough to be what is wanted. */
const LIKELY = 0.5;

/** The version most worth printing next: the one likeliest to meet all aims where that is likely, else the one that tells most. */
export function nextPrint(judged: readonly Judged[]): NextPrint {
  if (judged.length === 0) return { closest: null, mostInformative: null, advised: null, why: null, reasons: ['There are no candidates.'] };
  const closest = judged.reduce((a, b) => (b.meetsAll > a.meetsAll || (b.meetsAll === a.meetsAll && b.distance < a.distance) ? b : a));
  const mostInformative = judged.reduce((a, b) => (b.bits > a.bits ? b : a));
  const why = closest.meetsAll >= LIKELY || closest.id === mostInformative.id ? 'closest' : 'informative';
  const advised = why === 'closest' ? closest : mostInformative;
  const chance = (each: Judged) => `${Math.round(100 * each.meetsAll)} %`;
  const weakest = closest.aims.length > 0 ? closest.aims.reduce((a, b) => (b.chance < a.chance ? b : a)) : null;
  const reasons = [
    `Of ${judged.length} candidates ${closest.id} comes closest: it meets all targets with a chance of ${chance(closest)}, as far as the unknowns are known; parts scatter besides.`,
    ...(weakest && weakest.chance < 0.95
      ? [
          `What holds it back is ${weakest.quantity}: ${weakest.predicted.toPrecision(4)} is predicted, within its band with a chance of ${Math.round(100 * weakest.chance)} %.`,
        ]
      : []),
    `${mostInformative.id} would tell most: one print of it, measured, is worth ${mostInformative.bits.toFixed(1)} bits; ${closest.id} is worth ${closest.bits.toFixed(1)}.`,
    why === 'closest'
      ? `Print ${advised.id}: nothing else is likelier to be what is wanted.`
      : `Print ${advised.id} first: nothing is likely to meet all targets yet, so learn most.`,
  ];
  return { closest, mostInformative, advised: advised.id, why, reasons };
}
