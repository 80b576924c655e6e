import { type BAND_SOURCES, type FinishingStep, type MeasuredQuantity, PREDICTED_AT, type Result } from '../openapi/index.ts';
import type { EvaluationRecord } from '../prisma/index.ts';
import type { Conditions } from './evidence.ts';

type Source = (typeof BAND_SOURCES)[number];
interface Band {
  min: number;
  max: number;
  of: Source[];
}
export interface Prediction {
  predicted: number;
  band: Band | null;
}

/** How a quantity goes with the stiffness of joints, as a power: contact lasts as k^-1/2, the force is as k^1/2 (a mass on a spring). */
const WITH_STIFFNESS: Partial<Record<MeasuredQuantity, number>> = {
  stiffnessNPerMm: 1,
  initialNPerMm: 1,
  contactTimeMs: 0.5,
  peakForceN: 0.5,
};
const LOW = 0.025;
const HIGH = 0.975;

const valueAt = (result: Result, path: string): unknown =>
  path.split('.').reduce<unknown>((here, key) => (here as Record<string, unknown> | null | undefined)?.[key], result);

type Quantiles = readonly { share: number; value: number }[];
const between = (quantiles: Quantiles | undefined) => {
  const at = (share: number) => quantiles?.find((each) => each.share === share)?.value;
  const [min, max] = [at(LOW), at(HIGH)];
  return min === undefined || max === undefined ? null : { min, max };
};

/** What a calibrated material leaves open of numbers of a result, by their dotted paths: 95 %, both sides. */
interface Calibrated {
  calibrated?: readonly { quantity: string; low: number; high: number }[];
}

/** What a result says of a quantity, and where a part may lie by it; null: it holds no such number. */
export function predictionOf(result: Result & Calibrated, quantity: MeasuredQuantity): Prediction | null {
  const path = PREDICTED_AT[quantity];
  const predicted = path && valueAt(result, path);
  if (path === null || typeof predicted !== 'number') return null;
  const band: Band = { min: predicted, max: predicted, of: [] };
  const widen = (of: Source, range: { min: number; max: number } | null | undefined) => {
    if (!range) return;
    band.min += range.min - predicted;
    band.max += range.max - predicted;
    band.of.push(of);
  };
  widen('variation', between(result.variation?.quantities[path]?.quantiles));
  const calibrated = result.calibrated?.find((each) => each.quantity === path);
  widen('calibration', calibrated && { min: calibrated.low, max: calibrated.high });
  if (quantity === 'rollDeviationMm') widen('starts', between(result.motion?.roll?.deviationMm?.quantiles));
  if (quantity === 'cyclesToFailure') widen('life', result.life?.cyclesBand);
  const joints = (WITH_STIFFNESS[quantity] ?? 0) * ((result.joints?.bandPct ?? 0) / 100) * predicted;
  if (joints > 0) widen('joints', { min: predicted - joints, max: predicted + joints });
  return { predicted, band: band.of.length > 0 ? band : null };
}

/** The conditions that an evaluation's numbers hold under. */
export const conditionsOf = ({ input, result }: EvaluationRecord): Conditions => ({
  dropHeightMm: result?.rebound?.dropHeightMm,
  secantAtPct: input.tests.compression?.secantAtPct ?? 10,
  rollDistanceMm: input.tests.motion?.roll?.distanceMm,
});

/** What finishing steps are known to add to a quantity of one part: their mass; twice what they add to the surface to its diameter. */
export function finishingAdds(quantity: MeasuredQuantity, steps: readonly FinishingStep[]): number {
  const sum = (pick: (step: FinishingStep) => number | null) => steps.reduce((total, step) => total + (pick(step) ?? 0), 0);
  if (quantity === 'massG') return sum((step) => step.massChangeG);
  const surface = sum((step) => step.surfaceChangeMm);
  if (quantity === 'outsideDiameterMm') return 2 * surface;
  return quantity === 'circumferenceMm' ? 2 * Math.PI * surface : 0;
}
