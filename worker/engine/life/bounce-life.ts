import { type Cycles, cyclesAt, FATIGUE_SCATTER, RANGE, type StrainLife } from './strain-life.ts';

/** The worst section of the worst strut in one bounce, as mechanics found it. */
export interface Bounce {
  /** Largest strain of the extreme fibre at any time, percent. */
  readonly peakStrainPct: number;
  readonly strut: number | null;
  /** What kind of strut it is: a name of StrutGraph.roleNames. */
  readonly role: string;
}

export interface LifeWarning {
  readonly code: 'life-below-one-bounce' | 'life-beyond-curve';
  readonly message: string;
}

export interface LifeEstimate extends Cycles {
  readonly kind: 'life';
  readonly strainAmplitudePct: number;
  readonly criticalRole: string;
  readonly criticalStrut: number | null;
  readonly assumptions: readonly string[];
  readonly warnings: readonly LifeWarning[];
}
export type LifeOutcome =
  | LifeEstimate
  | { readonly kind: 'not-known'; readonly code: 'no-strain-life' | 'no-strain'; readonly message: string };

/**
 * Bounces until the worst strut fails, of half the parts. One bounce is one cycle of the fibre from unloaded to its peak and back: range =
 * peak, amplitude = half of it (the ringing that follows is smaller by far, and a power law hardly counts it). The worst of the given bounces
 * counts every time. `not-known`: the material has no curve, or nothing was strained.
 */
export function bounceLife(bounces: readonly Bounce[], curve: StrainLife | null): LifeOutcome {
  if (curve === null)
    return { kind: 'not-known', code: 'no-strain-life', message: 'The material record has no strain-life curve, so no life follows.' };
  const worst = bounces.reduce<Bounce | null>((most, each) => (each.peakStrainPct > (most?.peakStrainPct ?? 0) ? each : most), null);
  if (worst === null) return { kind: 'not-known', code: 'no-strain', message: 'No bounce strained any strut, so no life follows.' };
  const strainAmplitudePct = worst.peakStrainPct / 2;
  const life = cyclesAt(strainAmplitudePct, curve);
  return {
    kind: 'life',
    ...life,
    strainAmplitudePct,
    criticalRole: worst.role,
    criticalStrut: worst.strut,
    assumptions: assumptionsOf(curve),
    warnings: warningsOf(life),
  };
}

const assumptionsOf = ({ spreadFactor }: StrainLife): string[] => [
  'An estimate of common order, no guarantee: printed parts differ in pores, surface and age. Inspect the part, and test to failure what matters.',
  'One bounce is one cycle from 0 to the peak strain: the amplitude is half the peak. Its mean strain is not corrected for.',
  'Every bounce loads the same strut like the worst of the orientations, so a part that lands on all sides lasts longer.',
  'Strain of the extreme fibre where the strut leaves its node, without a notch factor.',
  spreadFactor === undefined
    ? `95 of 100 lives within the band: log-normal, standard deviation ${FATIGUE_SCATTER.deviation} of log10 (${FATIGUE_SCATTER.source}).`
    : `95 of 100 lives within the band: log-normal, a factor ${spreadFactor} to either side, as the material record says.`,
];

function warningsOf({ place, cycles }: Cycles): LifeWarning[] {
  if (place === 'below-one-cycle')
    return [
      {
        code: 'life-below-one-bounce',
        message: `By the strain-life curve the worst strut breaks in the first bounce (${cycles.toPrecision(2)} cycles).`,
      },
    ];
  if (place === 'beyond-range')
    return [
      {
        code: 'life-beyond-curve',
        message: `The life lies beyond ${RANGE.to} cycles, where strain-life curves are not measured: read it as very long, not as a number.`,
      },
    ];
  return [];
}
