import { z } from 'zod';
import { identifier, timestamp } from './common.ts';
import { parameterSet } from './parameter-set.ts';

const notes = z.string().max(10_000);

export const designBody = z.strictObject({ name: z.string().trim().min(1).max(200), notes: notes.default('') }).meta({ id: 'DesignBody' });
export type DesignBody = z.infer<typeof designBody>;

export const design = z
  .strictObject({ id: identifier, name: z.string(), notes: z.string(), createdAt: timestamp, archivedAt: timestamp.nullable() })
  .meta({ id: 'Design', description: 'A named object under development; its versions hold the parameter sets' });
export type Design = z.infer<typeof design>;

export const versionBody = z
  .strictObject({
    parameterSet,
    notes: notes.default(''),
    basedOn: identifier.nullish().meta({ description: 'The version of the same design that this one was derived from' }),
  })
  .meta({ id: 'VersionBody' });
export type VersionBody = z.infer<typeof versionBody>;

export const version = z
  .strictObject({
    id: identifier,
    designId: identifier,
    number: z.int().min(1).meta({ description: 'Counts from 1 within the design' }),
    parameterSet,
    notes: z.string(),
    basedOn: identifier.nullable(),
    createdAt: timestamp,
  })
  .meta({ id: 'Version', description: 'An immutable parameter set of a design' });
export type Version = z.infer<typeof version>;
