import { z } from 'zod';
import { timestamp } from './common.ts';
import { numeric } from './query.ts';

const MOST_DAYS = 36_500;
const days = z.int().min(1).max(MOST_DAYS);

export const retentionRules = z
  .strictObject({
    madeFilesAfterDays: days.nullable().meta({
      description:
        'Files that were ordered of evaluations go so many days after they were made; who orders one again has it made again, by the present engine. null: they are kept',
    }),
    pointResultsAfterDays: days.nullable().meta({
      description:
        'Points of batches and searches are thinned so many days after they ended: numbers, input, verdict and engine version stay, the whole result goes, and with it what is bounded by a path of the result. null: they are kept',
    }),
  })
  .meta({ id: 'RetentionRules', description: 'What may go, and when; without rules everything is kept' });
export type RetentionRules = z.infer<typeof retentionRules>;

/** What the rules would do if they were these. */
export const retentionQuery = z.strictObject({
  madeFilesAfterDays: numeric(days).optional().meta({ description: 'What would go if this were the rule' }),
  pointResultsAfterDays: numeric(days).optional().meta({ description: 'What would go if this were the rule' }),
});

export const MOST_COUNTED = 50_000;
const freed = z
  .strictObject({
    count: z.int().min(0),
    megabytes: z.number().min(0),
    complete: z.boolean().meta({ description: `false: there are more than ${MOST_COUNTED}, which is as far as is counted` }),
  })
  .nullable();

export const retention = z
  .strictObject({
    rules: retentionRules,
    changedAt: timestamp.nullable().meta({ description: 'null: never, so everything is kept' }),
    wouldFreeNow: z
      .strictObject({
        madeFiles: freed.meta({ description: 'null: there is no rule, and none was asked about' }),
        pointResults: freed.meta({ description: 'null: there is no rule, and none was asked about' }),
      })
      .meta({ description: 'By these rules, or by those that the query names' }),
  })
  .meta({ id: 'Retention' });
export type Retention = z.infer<typeof retention>;
export type Freed = NonNullable<z.infer<typeof freed>>;

export const exampleRetention: Retention = {
  rules: { madeFilesAfterDays: 90, pointResultsAfterDays: null },
  changedAt: '2027-02-01T09:00:00.000Z',
  wouldFreeNow: { madeFiles: { count: 214, megabytes: 512.4, complete: true }, pointResults: null },
};
