import type { Fit } from './fit.ts';
import { eigen } from './matrix.ts';
import { UNKNOWNS, type Unknown } from './unknowns.ts';

/** told: the measurements leave less than 0.3 of the deviation that was believed; partly; not-told: more than 0.8. */
export type Told = 'told' | 'partly' | 'not-told';

export interface Identifiability {
  readonly unknowns: readonly { readonly unknown: Unknown; readonly told: Told; readonly remainingShare: number }[];
  /** Combinations that the measurements say little of, the least told first: as much of each unknown as its believed deviation times its part. */
  readonly notTold: readonly { readonly remainingShare: number; readonly parts: Readonly<Partial<Record<Unknown, number>>> }[];
  /** Unknowns that are known together better than alone. */
  readonly together: readonly { readonly unknowns: readonly [Unknown, Unknown]; readonly correlation: number }[];
  readonly sentences: readonly string[];
}

const TOLD = 0.3;
const NOT_TOLD = 0.8;
const TOGETHER = 0.5;
/** Parts of a direction that are worth naming. */
const PART = 0.3;

const NAMES: Readonly<Record<Unknown, string>> = {
  growthInLayerMm: 'strut growth in the layer',
  growthUprightMm: 'upright strut growth',
  densityFactor: 'density',
  modulusFactor: 'modulus',
  lossFactorFactor: 'loss factor',
  jointFactor: 'joint factor',
};

/**
 * What the measurements cannot tell: the posterior covariance scaled by the deviations believed before; an eigenvalue near 1 is the square of what remains of a
 * combination that no measurement felt (prior-to-posterior contraction).
 */
export function identify({ covariance, priorDeviations }: Pick<Fit, 'covariance' | 'priorDeviations'>): Identifiability {
  const scaled = UNKNOWNS.map((_, j) => UNKNOWNS.map((__, k) => covariance[j][k] / (priorDeviations[j] * priorDeviations[k])));
  const unknowns = UNKNOWNS.map((unknown, j) => {
    const remainingShare = Math.sqrt(scaled[j][j]);
    const told: Told = remainingShare < TOLD ? 'told' : remainingShare > NOT_TOLD ? 'not-told' : 'partly';
    return { unknown, told, remainingShare };
  });
  const notTold = eigen(scaled)
    .filter(({ value }) => Math.sqrt(value) > NOT_TOLD)
    .map(({ value, vector }) => ({ remainingShare: Math.sqrt(value), parts: partsOf(vector) }));
  const together = UNKNOWNS.flatMap((a, j) =>
    UNKNOWNS.slice(j + 1).flatMap((b, at) => {
      const k = j + 1 + at;
      const correlation = scaled[j][k] / Math.sqrt(scaled[j][j] * scaled[k][k]);
      return Math.abs(correlation) > TOGETHER ? [{ unknowns: [a, b] as const, correlation }] : [];
    }),
  );
  return { unknowns, notTold, together, sentences: inWords(unknowns, notTold, together) };
}

/** Named so that the largest part is positive. */
function partsOf(vector: readonly number[]): Partial<Record<Unknown, number>> {
  const largest = vector.reduce((most, each) => (Math.abs(each) > Math.abs(most) ? each : most), 0);
  return Object.fromEntries(
    UNKNOWNS.flatMap((name, k) => (Math.abs(vector[k]) >= PART ? [[name, vector[k] * Math.sign(largest)] as const] : [])),
  );
}

function inWords(
  unknowns: Identifiability['unknowns'],
  notTold: Identifiability['notTold'],
  together: Identifiability['together'],
): string[] {
  const sentences = unknowns
    .filter(({ told }) => told === 'not-told')
    .map(
      ({ unknown, remainingShare }) =>
        `The measurements say next to nothing of the ${NAMES[unknown]}: ${percent(remainingShare)} of what was uncertain before still is.`,
    );
  for (const { parts } of notTold) {
    const names = Object.entries(parts).map(([name, part]) => `${part! > 0 ? 'more' : 'less'} ${NAMES[name as Unknown]}`);
    if (names.length > 1) sentences.push(`They cannot tell a part with ${names.join(' and ')} from one without.`);
  }
  for (const {
    unknowns: [a, b],
    correlation,
  } of together) {
    const how = correlation < 0 ? 'more of one would look like less of the other' : 'they would rise or fall together';
    sentences.push(`${capital(NAMES[a])} and ${NAMES[b]} are known better together than alone: ${how}.`);
  }
  return sentences;
}

const percent = (share: number) => `${Math.round(100 * share)} %`;
const capital = (text: string) => text[0].toUpperCase() + text.slice(1);
