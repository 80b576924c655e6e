import { z } from 'zod';
import { between, recordKey } from './common.ts';
import { inflationEstimates } from './inflation.ts';
import { bandRule, DEFAULT_BAND, measuredTargets, measurement } from './measurement.ts';
import { type Target, target } from './target.ts';

const MOST_TARGETS = 50;
const values = {
  targets: z.array(target).min(1).max(MOST_TARGETS),
  source: z.string().max(500).default(''),
  edition: z.string().max(200).default(''),
  status: z
    .string()
    .max(1000)
    .default('')
    .meta({ description: 'How the values were obtained: read in the primary text, read in a copy, from memory, measured' }),
  inflation: z
    .strictObject({ pressureBar: between(0.001, 20) })
    .nullable()
    .default(null),
  dropHeightMm: between(1, 20_000).nullable().default(null),
  peakForceN: between(0.01, 1e6).nullable().default(null),
};

export const inlineReference = z
  .strictObject({ key: recordKey.optional(), revision: z.int().min(1).optional(), ...values })
  .meta({ id: 'InlineReference' });

/** Readings, and how targets are made of them. */
const measured = {
  measurements: z
    .array(measurement)
    .max(8)
    .optional()
    .meta({ description: 'Own readings: each becomes a target, its mean in the band of `band`, and `status` says so' }),
  band: bandRule.optional().meta({ description: 'Default: mean ± 2 standard deviations' }),
};

const estimates = inflationEstimates.optional().meta({
  description: 'Of an inflated original whose pressure, mass and size are known. Computed: those that are posted are ignored',
});

/** Whether two targets ask for the same: a reference that was read and is posted again holds what its readings give. */
export const isSame = (a: Target, b: Target): boolean =>
  a.quantity === b.quantity && a.min === b.min && a.target === b.target && a.max === b.max && a.weight === b.weight;

export const referenceBody = z
  .strictObject({
    key: recordKey,
    ...values,
    targets: z.array(target).max(MOST_TARGETS).default([]),
    status: z.string().max(1000).default(''),
    ...measured,
    estimates,
  })
  .superRefine((value, context) => {
    const issue = (path: (string | number)[], input: unknown, message: string) =>
      context.addIssue({ code: 'custom', path, input, message });
    const { targets, measurements = [], dropHeightMm } = value;
    const quantities = measurements.map(({ quantity }) => quantity as string);
    const derivedTargets = measuredTargets(measurements, value.band ?? DEFAULT_BAND);
    if (targets.length === 0 && measurements.length === 0) issue(['targets'], targets, 'is empty; required: a target or a measurement');
    const count = targets.length + measurements.length;
    if (count > MOST_TARGETS) issue(['targets'], targets, `with the measurements ${count} targets; allowed: at most ${MOST_TARGETS}`);
    for (const [k, quantity] of quantities.entries()) {
      if (quantities.indexOf(quantity) < k)
        issue(['measurements', k, 'quantity'], quantity, 'measured twice; allowed: all its values in one');
    }
    for (const [k, { quantity }] of targets.entries()) {
      const derived = derivedTargets.find((each) => each.quantity === quantity);
      if (derived && !isSame(derived, targets[k]))
        issue(['targets', k, 'quantity'], quantity, 'also measured; allowed: one of the two, or just what the readings give');
    }
    if (quantities.includes('reboundHeightMm') && dropHeightMm === null)
      issue(['dropHeightMm'], dropHeightMm, 'required: the height that reboundHeightMm was measured from');
  })
  .meta({ id: 'ReferenceBody', description: "A team's own reference; posting a key again makes its next revision" });
export const reference = z
  .strictObject({
    key: recordKey,
    revision: z.int().min(1),
    builtIn: z.boolean(),
    ...values,
    ...measured,
    estimates,
  })
  .meta({ id: 'Reference', description: 'The object that a lattice is meant to match' });
export type InlineReference = z.infer<typeof inlineReference>;
export type ReferenceBody = z.infer<typeof referenceBody>;
export type Reference = z.infer<typeof reference>;
