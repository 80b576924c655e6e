import { z } from 'zod';
import { acceptance } from './acceptance.ts';
import { identifier, timestamp } from './common.ts';
import { tag } from './design.ts';
import { leafDifference } from './difference.ts';
import type { Quantity } from './quantities.ts';
import { cursor, numeric } from './query.ts';
import { verdict } from './result.ts';

/** The short names that a target may use: what a version is known by. */
export const KNOWN_BY = [
  'massG',
  'outsideDiameterMm',
  'circumferenceMm',
  'stiffnessNPerMm',
  'reboundHeightMm',
  'restitution',
  'peakForceN',
  'totalPerPart',
] as const satisfies Quantity[];

const MOST_VERSIONS = 500;
export const MOST_FOLLOWERS = 100;

/** Larger pages than elsewhere, so that most trees come whole. */
export const lineageQuery = z.strictObject({
  limit: numeric(z.int().min(1).max(MOST_VERSIONS)).default(200).meta({ description: 'Most versions of a page' }),
  cursor: cursor.optional(),
});

const count = z.int().min(0);
const relative = z.strictObject({
  versionId: identifier,
  designId: identifier.meta({ description: 'May be another design of the team' }),
  number: z.int().min(1),
});
const shortNumbers = z.strictObject(
  Object.fromEntries(KNOWN_BY.map((name) => [name, z.number().nullable()])) as Record<
    (typeof KNOWN_BY)[number],
    z.ZodNullable<z.ZodNumber>
  >,
);

export const lineageVersion = z
  .strictObject({
    id: identifier,
    number: z.int().min(1),
    note: z.string().meta({ description: 'The first line of its notes, at most 200 characters' }),
    tags: z.array(tag),
    createdAt: timestamp,
    basedOn: relative.extend({ designName: z.string() }).nullable(),
    changed: z.array(leafDifference).nullable().meta({
      description: 'In what its parameter set differs from the one that it is based on, which is on the left; null: it is based on none',
    }),
    followers: z.array(relative).meta({ description: `Versions that are based on it, the oldest first; the first ${MOST_FOLLOWERS}` }),
    followerCount: count,
    evaluation: z
      .strictObject({ evaluationId: identifier, engineVersion: z.string(), finishedAt: timestamp, verdict, quantities: shortNumbers })
      .nullable()
      .meta({ description: 'The newest that is done' }),
    prints: count.meta({ description: 'Parts printed of it, archived ones left out' }),
    measurements: count.meta({ description: 'Of those parts, archived ones left out' }),
    decision: z
      .strictObject({ acceptanceId: identifier, verdict: acceptance.shape.verdict, createdAt: timestamp })
      .nullable()
      .meta({ description: 'The newest; null: none was made' }),
  })
  .meta({ id: 'LineageVersion', description: 'A version in the tree of those it came from and those that came from it' });
export type LineageVersion = z.infer<typeof lineageVersion>;

export const exampleLineageVersion: LineageVersion = {
  ...{ id: '019abc10-0000-7000-8000-000000000005', number: 2, note: 'Thicker outside', tags: ['for-print'] },
  createdAt: '2027-01-31T09:20:00.000Z',
  basedOn: {
    ...{ versionId: '019abc10-0000-7000-8000-000000000002', designId: '019abc10-0000-7000-8000-000000000001', number: 1 },
    designName: 'Harbour Schools League, training ball size 1',
  },
  changed: [{ path: 'layers.0.strutDiameterMm', left: 4.2, right: 4.4, change: 0.2, changePct: 4.76 }],
  ...{ followers: [], followerCount: 0 },
  evaluation: {
    ...{ evaluationId: '019abc10-0000-7000-8000-000000000006', engineVersion: '1.4.3', finishedAt: '2027-01-31T09:20:01.000Z' },
    verdict: 'pass',
    quantities: {
      ...{ massG: 319.2, outsideDiameterMm: 162.3, circumferenceMm: 507.1, stiffnessNPerMm: null },
      ...{ reboundHeightMm: null, restitution: null, peakForceN: null, totalPerPart: 58.2 },
    },
  },
  ...{ prints: 3, measurements: 6 },
  decision: { acceptanceId: '019abc10-0000-7000-8000-000000000008', verdict: 'accepted', createdAt: '2027-02-20T09:00:00.000Z' },
};
