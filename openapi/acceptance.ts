import { z } from 'zod';
import { between, identifier, recordKey, timestamp } from './common.ts';
import { measuredSummary } from './comparison.ts';
import { MEASURED_QUANTITIES, type MeasuredQuantity, PREDICTED_AT } from './measured-quantities.ts';
import { serial } from './print.ts';
import { pageQuery } from './query.ts';

const share = (description: string) => between(50, 99.9).meta({ description });
const count = z.int().min(1).max(1e12);

export const STATEMENTS = ['parts', 'mean'] as const;
const asked = {
  versionId: identifier,
  reference: recordKey.meta({ description: 'Key of the reference whose bands are to be met' }),
  statement: z.enum(STATEMENTS).default('parts').meta({
    description: 'parts: of so many parts each lies within the band (tolerance interval); mean: their mean does (confidence interval)',
  }),
  coveragePct: share('Share of all parts that is to lie within the band; of statement parts').default(95),
  confidencePct: share('Of each statement by itself').default(90),
  material: recordKey.optional().meta({ description: 'Only parts printed of this material' }),
  finishing: z
    .string()
    .max(200)
    .optional()
    .meta({ description: 'Only parts finished so', examples: ['cleaning+dyeing'] }),
  durability: z
    .strictObject({
      counted: z.enum(['cycles', 'impacts']),
      atLeast: count.meta({ description: 'Without a crack' }),
      reliabilityPct: share('Share of all parts that is to last so long'),
    })
    .nullable()
    .default(null),
  notes: z.string().max(10_000).default(''),
};
export const acceptanceBody = z
  .strictObject({ ...asked, referenceRevision: z.int().min(1).max(2_147_483_647).optional().meta({ description: 'Default: the newest' }) })
  .meta({ id: 'AcceptanceBody', description: 'Asks for a decision on what has been measured until now; it is kept and never changes' });
export type AcceptanceBody = z.infer<typeof acceptanceBody>;

export const VERDICTS = ['accepted', 'rejected', 'needs-more'] as const;
export type AcceptanceVerdict = (typeof VERDICTS)[number];
const verdict = z.enum(VERDICTS);
const more = z.int().nullable().meta({
  description:
    'Further parts until a decision, if they come out like those so far; null: decided, or out of reach: more than 1000 parts in all, 10 000 of durability, or a mean so near a limit that neither can be shown',
});
const statement = z.string().meta({ description: 'What is said, or would be, in words' });

export const judgedTarget = z
  .strictObject({
    quantity: z.enum(MEASURED_QUANTITIES),
    min: z.number().nullable(),
    max: z.number().nullable(),
    verdict,
    more,
    statement,
    interval: z
      .strictObject({ from: z.number().nullable(), to: z.number().nullable(), factor: z.number() })
      .nullable()
      .meta({ description: 'Mean less and plus factor times deviation, on the sides the band has; null with fewer than two parts' }),
    measured: measuredSummary.nullable().meta({ description: 'null: not measured yet' }),
  })
  .meta({ id: 'JudgedTarget' });
export type JudgedTarget = z.infer<typeof judgedTarget>;

export const judgedDurability = z
  .strictObject({
    verdict,
    more,
    statement,
    passed: z.int(),
    failed: z.int(),
    undecided: z.int().meta({ description: 'Tests that were stopped too early, without a crack; not counted' }),
    reliabilityPct: z.strictObject({ from: z.number(), to: z.number() }).meta({ description: 'Exact bounds, each with the confidence' }),
  })
  .meta({ id: 'JudgedDurability' });
export type JudgedDurability = z.infer<typeof judgedDurability>;

const evidence = z
  .strictObject({
    measurementId: identifier,
    serial,
    measuredAt: timestamp,
    quantities: z.partialRecord(z.enum(MEASURED_QUANTITIES), z.array(z.number())),
  })
  .meta({ id: 'AcceptanceEvidence' });

export const acceptanceOutcome = z.strictObject({
  targets: z.array(judgedTarget),
  unjudged: z
    .array(z.string())
    .meta({ description: 'Quantities of the reference that no test measures, or that have no limits: they have no part in the verdict' }),
  durability: judgedDurability.nullable(),
  evidence: z.array(evidence).meta({ description: 'Everything that was read, as it was then' }),
});
export type AcceptanceOutcome = z.infer<typeof acceptanceOutcome>;

const stored = { ...asked, referenceRevision: z.int().min(1) };
export const acceptance = z
  .strictObject({
    id: identifier,
    designId: identifier,
    version: z.int().min(1),
    verdict,
    ...stored,
    decidedBy: z.strictObject({ keyId: identifier, name: z.string() }).meta({ description: 'The API key that asked' }),
    createdAt: timestamp,
    ...acceptanceOutcome.shape,
  })
  .meta({ id: 'Acceptance', description: 'What was decided of a version, by whom and on what evidence; never changed' });
export type Acceptance = z.infer<typeof acceptance>;
export const acceptanceInput = z.strictObject(stored);
export type AcceptanceInput = z.infer<typeof acceptanceInput>;

export const acceptanceSummary = z
  .strictObject({
    id: identifier,
    designId: identifier,
    versionId: identifier,
    version: z.int().min(1),
    verdict,
    reference: recordKey,
    referenceRevision: z.int().min(1),
    decidedBy: acceptance.shape.decidedBy,
    createdAt: timestamp,
  })
  .meta({ id: 'AcceptanceSummary' });
export type AcceptanceSummary = z.infer<typeof acceptanceSummary>;

export const acceptanceQuery = pageQuery.extend({
  designId: identifier.optional(),
  versionId: identifier.optional(),
  verdict: verdict.optional(),
});

/** The measured quantity that a target names by its short name or its path; null where no test measures it. */
export function measuredQuantityOf(name: string): MeasuredQuantity | null {
  return MEASURED_QUANTITIES.find((each) => each === name || PREDICTED_AT[each] === name) ?? null;
}
