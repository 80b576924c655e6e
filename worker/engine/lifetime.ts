import type { Warning } from './cautions.ts';
import { bounceLife, type LifeEstimate, type StrainLife } from './life/index.ts';
import type { ReboundFigures } from './rebound.ts';

export type LifeFigures = ReturnType<typeof lifeFigures>;

/** The contract's life of a part by its bounces; null, with a warning that says why, where none follows. */
export function lifeOf({ byOrientation }: ReboundFigures, curve: StrainLife | null): { life: LifeFigures | null; warnings: Warning[] } {
  const bounces = byOrientation.map(({ peakStrainPct, peakStrainAt: { strut, role } }) => ({ peakStrainPct, strut, role }));
  const outcome = bounceLife(bounces, curve);
  if (outcome.kind === 'not-known') return { life: null, warnings: [{ code: outcome.code, message: outcome.message }] };
  return { life: lifeFigures(outcome), warnings: [...outcome.warnings] };
}

const lifeFigures = ({ cycles, from, to, strainAmplitudePct, criticalRole, assumptions }: LifeEstimate) => ({
  cyclesToFailure: cycles,
  cyclesBand: { min: from, max: to },
  strainAmplitudePct,
  criticalRole,
  assumptions: [...assumptions],
});
