import { z } from 'zod';
import { identifier } from './common.ts';
import { evaluationStatus } from './evaluation.ts';
import { ordinal } from './query.ts';

const leaf = z.union([z.number(), z.string(), z.boolean(), z.null()]).meta({ description: 'null also where this side has no such leaf' });
export const leafDifference = z
  .strictObject({
    path: z.string().meta({ description: 'Dotted; an item of a list by its id or quantity where it has one, else by its place' }),
    left: leaf,
    right: leaf,
    change: z.number().nullable().meta({ description: 'right - left; null unless both are numbers' }),
    changePct: z.number().nullable().meta({ description: 'Of the size of left; null where that is 0' }),
  })
  .meta({ id: 'LeafDifference' });
export type LeafDifference = z.infer<typeof leafDifference>;

export const comparison = z
  .strictObject({ differing: z.array(leafDifference), equalCount: z.int().meta({ description: 'Leaves that are the same on both sides' }) })
  .meta({ id: 'Comparison' });
export type Comparison = z.infer<typeof comparison>;

const version = z.strictObject({ versionId: identifier, designId: identifier, number: z.int(), evaluationId: identifier.nullable() });
export const versionDifference = z
  .strictObject({
    left: version,
    right: version,
    parameters: comparison,
    results: comparison.nullable().meta({
      description: 'Of the newest finished evaluations of both under the same records, tests and engine version; null when there are none',
    }),
  })
  .meta({ id: 'VersionDifference' });

const evaluation = z.strictObject({ evaluationId: identifier, status: evaluationStatus });
export const evaluationDifference = z
  .strictObject({
    left: evaluation,
    right: evaluation,
    parameters: comparison.meta({
      description: 'Of the parameter sets, and of material, buildVolume, reference and tests below their names',
    }),
    results: comparison.nullable().meta({ description: 'null unless both are done and neither is thinned' }),
  })
  .meta({ id: 'EvaluationDifference' });

const ANY_VERSION = 'the number of a version of this design, or the id of a version of any design of the team';
export const withVersion = z.strictObject({
  with: z
    .union([ordinal, identifier.meta({ 'x-allowed': ANY_VERSION })])
    .meta({ description: `The version on the right: ${ANY_VERSION}`, 'x-allowed': ANY_VERSION }),
});
export const withEvaluation = z.strictObject({ with: identifier });
