import { z } from 'zod';
import { identifier, timestamp } from './common.ts';
import { tag } from './design.ts';
import { evaluationStatus } from './evaluation.ts';
import { engineVersion, engineVersionCount, engineVersionsWarnings } from './mixed-versions.ts';
import { QUANTITIES } from './quantities.ts';
import { verdict } from './result.ts';

/** Evaluations of one request. */
export const MOST_REEVALUATED = 10_000;
const MOST_NAMED = 1000;
/** Of each list of the drift. */
export const MOST_TOLD = 50;

const ids = z.array(identifier).min(1).max(MOST_NAMED);
const selected = {
  designId: identifier.optional().meta({ description: 'Evaluations of any version of this design' }),
  versionIds: ids.optional(),
  evaluationIds: ids.optional(),
  tag: tag.optional().meta({ description: 'Evaluations of versions that have this tag, or whose design has it' }),
  engineVersion: engineVersion.optional().meta({ description: 'Evaluations that this version of the engine computed' }),
};
const SELECTS = Object.keys(selected).join(', ');

export const reevaluationRequest = z
  .strictObject({ name: z.string().trim().max(200).default(''), ...selected })
  .superRefine(({ name: _, ...selection }, context) => {
    if (Object.values(selection).some((each) => each !== undefined)) return;
    context.addIssue({ code: 'custom', path: [], input: {}, message: `selects nothing; required: at least one of ${SELECTS}` });
  })
  .meta({
    id: 'ReevaluationRequest',
    description: `Which finished evaluations of older versions of the engine to compute again; all that is given must hold. At most ${MOST_REEVALUATED}`,
  });
export type ReevaluationRequest = z.infer<typeof reevaluationRequest>;
export const reevaluationSelection = z.strictObject(selected);
export type ReevaluationSelection = z.infer<typeof reevaluationSelection>;

const count = z.int().min(0);
const pct = z.number().nullable();
const quantity = z.enum(QUANTITIES);
const pair = {
  evaluationId: identifier.meta({ description: 'The earlier evaluation' }),
  again: identifier.meta({ description: 'The new one' }),
};

const quantityDrift = z
  .strictObject({
    quantity,
    compared: count.meta({ description: 'Pairs in which both have it' }),
    moved: count.meta({ description: 'Of those, in which it is not the very same number' }),
    medianPct: pct.meta({ description: 'Median change of those that moved, of the size of the earlier value; null where none did' }),
    largest: z
      .strictObject({ ...pair, left: z.number(), right: z.number(), changePct: z.number() })
      .nullable()
      .meta({ description: 'The largest change in per cent, up or down, and the pair that it belongs to' }),
    gained: count.meta({ description: 'Pairs in which only the new one has it' }),
    lost: count.meta({ description: 'Pairs in which only the earlier one has it' }),
  })
  .meta({ id: 'QuantityDrift' });
export type QuantityDrift = z.infer<typeof quantityDrift>;

const told = <S extends z.ZodType>(item: S, description: string) =>
  z.strictObject({ count, items: z.array(item).meta({ description: `The first ${MOST_TOLD}` }) }).meta({ description });
const failure = z.strictObject({ ...pair, code: z.string(), message: z.string() });

export const drift = z
  .strictObject({
    pairs: count.meta({ description: 'Of which both have ended' }),
    earlier: z.array(engineVersionCount).meta({ description: 'What computed the earlier ones' }),
    again: z
      .array(engineVersionCount)
      .meta({ description: 'What computed the new ones; one version, unless the service was updated meanwhile' }),
    quantities: z.array(quantityDrift).meta({ description: 'Those that any pair has' }),
    verdicts: told(z.strictObject({ ...pair, from: verdict, to: verdict }), 'Printability verdicts that changed'),
    newFailures: told(failure, 'Done before, and failed now'),
    pastFailures: told(failure, 'Failed before, and done now; code and message are those of then'),
  })
  .meta({ id: 'Drift', description: 'What another version of the engine makes of the same inputs' });
export type Drift = z.infer<typeof drift>;

const state = {
  id: identifier,
  name: z.string(),
  status: z.enum(['queued', 'running', 'done', 'cancelled']),
  selection: reevaluationSelection,
  engineVersion: z.string().meta({ description: 'The version that the service had when it was asked' }),
  counts: z.strictObject({ total: count, queued: count, running: count, done: count, failed: count, cancelled: count }),
  upToDate: count.meta({
    description: `Evaluations of the selection that this version had computed before, which are left as they are; at most ${MOST_REEVALUATED} are counted`,
  }),
  secondsLeft: z.number().nullable(),
  createdAt: timestamp,
  startedAt: timestamp.nullable(),
  finishedAt: timestamp.nullable(),
};
export const reevaluationSummary = z.strictObject(state).meta({ id: 'ReevaluationSummary' });
export type ReevaluationSummary = z.infer<typeof reevaluationSummary>;

export const reevaluation = z
  .strictObject({
    ...state,
    summary: z.string().meta({ description: 'In plain words' }),
    drift,
    warnings: engineVersionsWarnings,
  })
  .meta({ id: 'Reevaluation', description: 'Earlier evaluations computed again by the present engine, from the inputs stored with them' });
export type Reevaluation = z.infer<typeof reevaluation>;

const side = z.strictObject({ evaluationId: identifier, engineVersion: z.string(), status: evaluationStatus, verdict: verdict.nullable() });
export const reevaluatedPair = z
  .strictObject({
    index: count,
    earlier: side,
    again: side.nullable().meta({ description: 'null: its turn has not come' }),
    changes: z
      .array(z.strictObject({ quantity, left: z.number().nullable(), right: z.number().nullable(), change: pct, changePct: pct }))
      .meta({ description: 'Quantities that are not the very same; empty until both have ended' }),
  })
  .meta({ id: 'ReevaluatedPair' });
export type ReevaluatedPair = z.infer<typeof reevaluatedPair>;

export const exampleReevaluationRequest: z.input<typeof reevaluationRequest> = {
  name: 'After the update',
  tag: 'for-print',
  engineVersion: '1.4.2',
};

const exampleState: ReevaluationSummary = {
  ...{ id: '01948f3a-7c00-7d10-8a00-000000000701', name: 'After the update', status: 'done' },
  selection: { tag: 'for-print', engineVersion: '1.4.2' },
  engineVersion: '1.4.3',
  counts: { total: 12, queued: 0, running: 0, done: 12, failed: 0, cancelled: 0 },
  ...{ upToDate: 3, secondsLeft: null },
  ...{ createdAt: '2027-03-01T09:00:00Z', startedAt: '2027-03-01T09:00:00.100Z', finishedAt: '2027-03-01T09:01:10.000Z' },
};
const examplePair = { evaluationId: '019abc10-0000-7000-8000-000000000003', again: '019abc10-0000-7000-8000-000000000009' };
const none = { count: 0, items: [] };
export const exampleReevaluationSummary = exampleState;
export const exampleReevaluation: Reevaluation = {
  ...exampleState,
  summary: '12 evaluations are computed again by engine 1.4.3: 1 of 16 quantities moved, stiffnessNPerMm at most by 0.80 %.',
  drift: {
    pairs: 12,
    earlier: [{ engineVersion: '1.4.2', count: 12 }],
    again: [{ engineVersion: '1.4.3', count: 12 }],
    quantities: [
      {
        ...{ quantity: 'stiffnessNPerMm', compared: 12, moved: 12, medianPct: 0.31, gained: 0, lost: 0 },
        largest: { ...examplePair, left: 25, right: 25.2, changePct: 0.8 },
      },
    ],
    ...{ verdicts: none, newFailures: none, pastFailures: none },
  },
  warnings: [],
};
export const exampleReevaluatedPair: ReevaluatedPair = {
  index: 0,
  earlier: { evaluationId: examplePair.evaluationId, engineVersion: '1.4.2', status: 'done', verdict: 'pass' },
  again: { evaluationId: examplePair.again, engineVersion: '1.4.3', status: 'done', verdict: 'pass' },
  changes: [{ quantity: 'stiffnessNPerMm', left: 25, right: 25.2, change: 0.2, changePct: 0.8 }],
};
