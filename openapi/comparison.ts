import { z } from 'zod';
import { identifier, recordKey } from './common.ts';
import { MEASURED_QUANTITIES } from './measured-quantities.ts';
import { serial } from './print.ts';

const usedRecord = z.strictObject({ key: recordKey, revision: z.int().min(1) });
const count = z.int();

export const comparisonQuery = z.strictObject({
  evaluationId: identifier
    .optional()
    .meta({ description: 'An evaluation of the version to compare with; default: the newest of the material that was printed' }),
});

/** What parts say of one quantity. */
export const measuredSummary = z
  .strictObject({
    prints: count,
    readings: count,
    mean: z.number(),
    deviation: z.number().nullable().meta({ description: 'Standard deviation over parts (n - 1); null of a single part' }),
    min: z.number(),
    max: z.number(),
    outliers: z.array(serial).meta({ description: 'Parts flagged among the others; they are counted like the others' }),
    leftOut: count.meta({ description: 'Readings taken under other conditions (drop height, secant, distance), which are not compared' }),
  })
  .meta({ id: 'MeasuredSummary', description: 'Over parts, each by the mean of its readings' });

export const BAND_SOURCES = ['variation', 'joints', 'starts', 'life', 'calibration'] as const;
export const predictedBand = z
  .strictObject({
    min: z.number(),
    max: z.number(),
    of: z.array(z.enum(BAND_SOURCES)).meta({
      description:
        'variation: 95 % of parts as printed; joints: how far the joint model may be off; starts: 95 % of rolls; life: scatter of fatigue; calibration: 95 %',
    }),
  })
  .meta({ id: 'PredictedBand', description: 'Where a part may lie; half widths are added, as some of them are bounds and no deviations' });

const compared = {
  predicted: z.number().nullable().meta({ description: 'As evaluated, with what finishing is known to add' }),
  differencePct: z.number().nullable().meta({ description: 'Measured less predicted, over predicted' }),
  inside: z.boolean().nullable().meta({ description: 'Whether the measured mean lies in the band; null: there is no band' }),
};
export const comparedQuantity = z
  .strictObject({
    quantity: z.enum(MEASURED_QUANTITIES),
    ...compared,
    finishing: z.number().meta({ description: 'What finishing added to the prediction, mean over the parts' }),
    band: predictedBand.nullable(),
    difference: z.number().nullable(),
    printsInside: count.nullable(),
    measured: measuredSummary,
  })
  .meta({ id: 'ComparedQuantity' });
export type ComparedQuantity = z.infer<typeof comparedQuantity>;

const group = {
  material: usedRecord,
  buildVolume: usedRecord,
  finishing: z.string().meta({ description: 'Kinds of the steps, in order', examples: ['cleaning+dyeing', 'none'] }),
};
export const comparisonGroup = z
  .strictObject({
    ...group,
    evaluation: z
      .strictObject({ id: identifier, engineVersion: z.string(), material: z.string().nullable(), materialRevision: z.int().nullable() })
      .nullable()
      .meta({ description: 'Compared with; null: none of this material is done' }),
    quantities: z.array(comparedQuantity),
  })
  .meta({ id: 'ComparisonGroup', description: 'Parts printed of one material in one build volume and finished alike' });
export type ComparisonGroup = z.infer<typeof comparisonGroup>;

export const versionComparison = z
  .strictObject({ designId: identifier, versionId: identifier, number: z.int().min(1), groups: z.array(comparisonGroup) })
  .meta({ id: 'VersionComparison', description: 'What was predicted of a version beside what was measured on its prints' });
export type VersionComparison = z.infer<typeof versionComparison>;

const trendPoint = z
  .strictObject({
    versionId: identifier,
    number: z.int().min(1),
    ...group,
    ...compared,
    measured: z.number().meta({ description: 'Mean over parts' }),
    deviation: z.number().nullable(),
    prints: count,
  })
  .meta({ id: 'TrendPoint' });
export const designComparison = z
  .strictObject({
    designId: identifier,
    quantities: z.array(
      z.strictObject({
        quantity: z.enum(MEASURED_QUANTITIES),
        points: z.array(trendPoint).meta({ description: 'By version, the oldest first' }),
        closerBy: z
          .number()
          .nullable()
          .meta({ description: 'Percent by which the latest version is closer to its prediction than the first; below 0: further off' }),
      }),
    ),
  })
  .meta({
    id: 'DesignComparison',
    description: 'Predicted beside measured over the versions of a design, the newest fifty that were measured',
  });
export type DesignComparison = z.infer<typeof designComparison>;
