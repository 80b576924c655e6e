import { z } from 'zod';
import { between } from './common.ts';
import type { Target } from './target.ts';

/** What can be measured on an object that is there: the short names that a scale, a tape, a drop or a press gives. */
export const MEASURABLE = [
  'massG',
  'outsideDiameterMm',
  'circumferenceMm',
  'reboundHeightMm',
  'restitution',
  'contactTimeMs',
  'peakForceN',
  'stiffnessNPerMm',
] as const;

const note = z.string().max(500).default('');

export const measurement = z
  .strictObject({
    quantity: z.enum(MEASURABLE),
    values: z.array(between(1e-6, 1e9)).min(2).max(200).meta({ description: 'One for each reading; a spread needs at least two' }),
    instrument: note,
    notes: note,
  })
  .meta({ id: 'Measurement', description: "The team's own readings of one quantity" });
export type Measurement = z.infer<typeof measurement>;

export const bandRule = z
  .discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('standard-deviations'), factor: between(0.1, 10).default(2) }),
    z.strictObject({ kind: z.literal('observed-range') }),
  ])
  .meta({
    id: 'BandRule',
    description: 'Band around the mean: so many sample standard deviations (n - 1) to each side, or from the least reading to the largest',
  });
export type BandRule = z.infer<typeof bandRule>;
export const DEFAULT_BAND: BandRule = { kind: 'standard-deviations', factor: 2 };

const DIGITS = 12;
const LEAST_LIMIT = 1e-9;
/** Without the last digits, which are rounding, and not below 0: none of these quantities is. */
const tidy = (value: number) => (value < LEAST_LIMIT ? 0 : Number(value.toPrecision(DIGITS)));

function limits(values: readonly number[], mean: number, rule: BandRule): { min: number; max: number } {
  if (rule.kind === 'observed-range') return { min: Math.min(...values), max: Math.max(...values) };
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const reach = rule.factor * Math.sqrt(squares / (values.length - 1));
  return { min: mean - reach, max: mean + reach };
}

/** One target for each measured quantity: the mean of its readings, in the band of the rule. */
export function measuredTargets(measurements: readonly Measurement[], rule: BandRule): Target[] {
  return measurements.map(({ quantity, values }) => {
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const { min, max } = limits(values, mean, rule);
    return { quantity, min: tidy(min), target: tidy(mean), max: tidy(max) };
  });
}

/** What a reference says of targets that were measured: of how many readings, and how wide their bands are. */
export function measuredStatus(measurements: readonly Measurement[], rule: BandRule): string {
  const counts = measurements.map(({ quantity, values }) => `${quantity} n = ${values.length}`).join(', ');
  const band = rule.kind === 'observed-range' ? 'least to largest reading' : `mean ± ${rule.factor} standard deviations`;
  return `measured by the team: ${counts}; bands: ${band}`;
}
