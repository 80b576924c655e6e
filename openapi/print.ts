import { z } from 'zod';
import { between, identifier, percent, recordKey, timestamp } from './common.ts';
import { limit, ordinal, pageQuery } from './query.ts';

const MOST_COPIES = 200;
const notes = z.string().max(10_000);
const label = z.string().trim().min(1).max(100);
const revision = z.int().min(1).max(2_147_483_647);

/** What is written on a part, or on its bag: a CSV file names prints by it. */
export const serial = z
  .string()
  .regex(/^[A-Za-z0-9](?:[A-Za-z0-9._/-]*[A-Za-z0-9])?$/)
  .max(60)
  .meta({
    description: 'Mark of one printed part, unique within the team',
    examples: ['HSL-3-01'],
    'x-allowed': 'letters and digits, between them also . _ / -, at most 60 characters',
  });

export const FINISHING = ['cleaning', 'smoothing', 'dyeing', 'other'] as const;
export const finishingStep = z
  .strictObject({
    kind: z.enum(FINISHING),
    method: z.string().max(200).default(''),
    massChangeG: between(-10_000, 10_000).nullable().default(null).meta({ description: 'What the step adds to one part; null: not known' }),
    surfaceChangeMm: between(-5, 5)
      .nullable()
      .default(null)
      .meta({ description: 'How far the step moves the surface outwards, so half of what it adds to a strut diameter; null: not known' }),
    surface: z.string().max(200).default('').meta({ description: 'How the surface is after it' }),
  })
  .meta({ id: 'FinishingStep', description: 'What was done to a part after printing' });
export type FinishingStep = z.infer<typeof finishingStep>;
const finishing = z.array(finishingStep).max(20);

const lot = z
  .strictObject({ name: label, virginSharePct: percent.nullable().default(null).meta({ description: 'The rest is used powder' }) })
  .meta({ id: 'PowderLot' });

const millimetres = between(-10_000, 10_000);
const place = {
  placeMm: z
    .tuple([millimetres, millimetres, millimetres])
    .nullable()
    .default(null)
    .meta({ description: "Centre of the part from the chamber's lower corner; null: not known" }),
  orientationDeg: z
    .tuple([between(-360, 360), between(-360, 360), between(-360, 360)])
    .nullable()
    .default(null)
    .meta({ description: "How it was turned from how it was designed: about the chamber's x, then y, then z; null: not known" }),
};
const copy = z
  .strictObject({ serial: serial.optional().meta({ description: 'Default: one is made' }), ...place })
  .meta({ id: 'PrintedCopy' });

const made = {
  versionId: identifier,
  lot,
  build: label.meta({ description: 'Name of the build', examples: ['2027-02-03 A'] }),
  finishing: finishing.default([]).meta({ description: 'In the order in which it was done' }),
  printedOn: z.iso.date().meta({ description: 'Day of the build' }),
  notes: notes.default(''),
};
export const printBody = z
  .strictObject({
    ...made,
    material: recordKey.meta({ description: 'Key of a material' }),
    materialRevision: revision.optional().meta({ description: 'Default: the newest' }),
    buildVolume: recordKey.meta({ description: 'Key of a build volume' }),
    buildVolumeRevision: revision.optional().meta({ description: 'Default: the newest' }),
    copies: z
      .array(copy)
      .min(1)
      .max(MOST_COPIES)
      .default([{ placeMm: null, orientationDeg: null }]),
  })
  .superRefine(({ copies }, context) => {
    const serials = copies.map((each) => each.serial);
    for (const [k, each] of serials.entries()) {
      if (each !== undefined && serials.indexOf(each) < k)
        context.addIssue({ code: 'custom', path: ['copies', k, 'serial'], input: each, message: 'given twice; allowed: each serial once' });
    }
  })
  .meta({ id: 'PrintBody', description: 'Copies of a version, out of one build and treated alike' });
export type PrintBody = z.infer<typeof printBody>;

export const printChange = z
  .strictObject({ notes: notes.optional(), finishing: finishing.optional() })
  .refine(
    (change) => Object.values(change).some((each) => each !== undefined),
    'changes nothing; required: at least one of notes and finishing',
  )
  .meta({ id: 'PrintChange', description: 'What is left out stays as it is; finishing steps replace all steps' });
export type PrintChange = z.infer<typeof printChange>;

const usedRecord = z.strictObject({ key: recordKey, revision: z.int().min(1) });
export const print = z
  .strictObject({
    id: identifier,
    serial,
    ...made,
    ...place,
    designId: identifier,
    version: z.int().min(1).meta({ description: 'Number of the version' }),
    material: usedRecord,
    buildVolume: usedRecord,
    createdAt: timestamp,
    archivedAt: timestamp.nullable(),
  })
  .meta({ id: 'Print', description: 'One printed part' });
export type Print = z.infer<typeof print>;
export const printList = z.strictObject({ items: z.array(print) }).meta({ id: 'PrintList' });

/** Which prints are meant, wherever prints or what was measured on them are listed. */
export const ofPrints = {
  designId: identifier.optional(),
  versionId: identifier.optional(),
  material: recordKey.optional(),
  materialRevision: ordinal.optional(),
  buildVolume: recordKey.optional(),
  build: label.optional(),
  lot: label.optional(),
};
export const printQuery = pageQuery.extend({
  ...ofPrints,
  serial: serial.optional(),
  archived: z.enum(['false', 'true']).default('false').meta({ description: 'true: archived ones only' }),
  limit,
});
export type PrintQuery = z.infer<typeof printQuery>;

/** What was done to a part, as one word to sort by: `cleaning+dyeing`, or `none`. */
export const finishingOf = ({ finishing: steps }: Pick<Print, 'finishing'>): string => steps.map(({ kind }) => kind).join('+') || 'none';
