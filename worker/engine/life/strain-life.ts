import { normalShare, Z95 } from '../probability/index.ts';

/** Strain amplitude (percent) = coefficientPct * cycles ^ exponent: the curve through median lives, exponent below 0. */
export interface StrainLife {
  readonly coefficientPct: number;
  readonly exponent: number;
  /** 95 of 100 lives lie between cycles / spreadFactor and cycles * spreadFactor; absent: FATIGUE_SCATTER. */
  readonly spreadFactor?: number;
}

/** Where strain-life curves are measured; beyond, a life is told as beyond. */
export const RANGE = { from: 1, to: 1e7 } as const;

/** Lives at one strain are log-normal; the scatter of log10(life) when a material record gives none. */
export const FATIGUE_SCATTER = {
  deviation: 0.3,
  source:
    'from memory: 0.1 to 0.3 for specimens of one batch (log-normal lives as in ASTM E739), about 0.2 for welded joints (BS 7608); the upper end is taken as printed polymers scatter more',
} as const;

export interface Cycles {
  /** Median life. */
  readonly cycles: number;
  /** 95 of 100 lives are expected between. */
  readonly from: number;
  readonly to: number;
  /** Standard deviation of log10(life). */
  readonly deviation: number;
  /** Whether the median lies within RANGE. */
  readonly place: 'within' | 'below-one-cycle' | 'beyond-range';
}

/**
 * Cycles at a strain amplitude (percent, above 0): the inverse of the curve, (amplitude / coefficient) ^ (1 / exponent) (Basquin 1910 for the elastic,
 * Coffin 1954 and Manson 1953 for the plastic part; one power law holds both over the decades that matter here).
 */
export function cyclesAt(amplitudePct: number, curve: StrainLife): Cycles {
  const cycles = (amplitudePct / curve.coefficientPct) ** (1 / curve.exponent);
  const deviation = curve.spreadFactor === undefined ? FATIGUE_SCATTER.deviation : Math.log10(curve.spreadFactor) / Z95;
  const spread = 10 ** (Z95 * deviation);
  const place = cycles < RANGE.from ? 'below-one-cycle' : cycles > RANGE.to ? 'beyond-range' : 'within';
  return { cycles, from: cycles / spread, to: cycles * spread, deviation, place };
}

/** Strain amplitude (percent) of a median life: the curve itself. */
export const strainAt = (cycles: number, { coefficientPct, exponent }: StrainLife): number => coefficientPct * cycles ** exponent;

/** Share (0 to 1) of parts expected to have failed after so many cycles: the normal distribution of log10(cycles / median). */
export const failedShare = (after: number, { cycles, deviation }: Pick<Cycles, 'cycles' | 'deviation'>): number =>
  normalShare(Math.log10(after / cycles) / deviation);
