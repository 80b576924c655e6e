import { z } from 'zod';
import { identifier, timestamp } from './common.ts';
import { parameterSet } from './parameter-set.ts';

const notes = z.string().max(10_000);
const name = z.string().trim().min(1).max(200);

export const tag = z
  .string()
  .regex(/^[a-z0-9]+(?:-[a-z0-9]+)*$/)
  .max(32)
  .meta({
    description: 'A word to find things by',
    examples: ['for-print'],
    'x-allowed': 'a tag of lower-case letters, digits and single hyphens, at most 32 characters',
  });
const tags = z
  .array(tag)
  .max(20)
  .refine((given) => new Set(given).size === given.length, 'names a tag twice; allowed: each tag once')
  .meta({ uniqueItems: true });

export const designBody = z.strictObject({ name, notes: notes.default(''), tags: tags.default([]) }).meta({ id: 'DesignBody' });
export type DesignBody = z.infer<typeof designBody>;

const changesNothing = (change: object) => Object.values(change).every((value) => value === undefined);

export const designChange = z
  .strictObject({ name: name.optional(), notes: notes.optional(), tags: tags.optional() })
  .refine((change) => !changesNothing(change), 'changes nothing; required: at least one of name, notes and tags')
  .meta({ id: 'DesignChange', description: 'What is left out stays as it is; tags replace all tags' });
export type DesignChange = z.infer<typeof designChange>;

export const design = z
  .strictObject({
    id: identifier,
    name: z.string(),
    notes: z.string(),
    tags: z.array(tag),
    createdAt: timestamp,
    archivedAt: timestamp.nullable(),
  })
  .meta({ id: 'Design', description: 'A named object under development; its versions hold the parameter sets' });
export type Design = z.infer<typeof design>;

/** The version that a batch or a search was posted from. */
export const origin = z
  .strictObject({ designId: identifier, versionId: identifier, version: z.int().meta({ description: 'Its number within the design' }) })
  .meta({ id: 'Origin', description: 'The version that it was posted from' });
export type Origin = z.infer<typeof origin>;

export const versionBody = z
  .strictObject({
    parameterSet,
    notes: notes.default(''),
    tags: tags.default([]),
    basedOn: identifier
      .nullish()
      .meta({ description: 'The version that this one was derived from, of this design or of another of the team' }),
  })
  .meta({ id: 'VersionBody' });
export type VersionBody = z.infer<typeof versionBody>;

export const versionChange = z
  .strictObject({ notes: notes.optional(), tags: tags.optional() })
  .refine((change) => !changesNothing(change), 'changes nothing; required: at least one of notes and tags')
  .meta({ id: 'VersionChange', description: 'What is left out stays as it is; tags replace all tags. The parameter set never changes' });
export type VersionChange = z.infer<typeof versionChange>;

export const version = z
  .strictObject({
    id: identifier,
    designId: identifier,
    number: z.int().min(1).meta({ description: 'Counts from 1 within the design' }),
    parameterSet,
    notes: z.string(),
    tags: z.array(tag),
    basedOn: identifier.nullable(),
    createdAt: timestamp,
  })
  .meta({ id: 'Version', description: 'A parameter set of a design, which never changes; its notes and tags may' });
export type Version = z.infer<typeof version>;
