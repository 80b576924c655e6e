import { z } from 'zod';

/** Key of a record: what people type, so lower case and short. */
export const recordKey = z
  .string()
  .regex(/^[a-z0-9]+(?:-[a-z0-9]+)*$/)
  .max(64)
  .meta({
    description: 'Key of a record, unique within its kind and team',
    'x-allowed': 'a key of lower-case letters, digits and single hyphens, at most 64 characters',
  });

const currency = z.string().regex(/^[A-Z]{3}$/, 'a three-letter ISO 4217 code');
/** What somebody asks for something: given, so it has a limit. */
export const price = z
  .strictObject({ amount: z.number().min(0).max(1e9), currency })
  .meta({ id: 'Price', description: 'A price or a rate in one currency (ISO 4217)' });
/** What something comes to: computed, so it may be any amount. */
export const money = z
  .strictObject({ amount: z.number().min(0), currency })
  .meta({ id: 'Money', description: 'An amount in one currency (ISO 4217)' });

/** Where the values of a record come from, by field name. */
const MOST_SOURCES = 100;
export const sourceByField = z
  .record(z.string().max(64), z.string().max(500))
  .refine((sources) => Object.keys(sources).length <= MOST_SOURCES, `allowed: at most ${MOST_SOURCES} entries`)
  .meta({ description: 'Source of each value, by field name', maxProperties: MOST_SOURCES });

/**
 * A number with both limits. Nothing physical is arbitrarily close to 0, and what divides by a number that is would give results that
 * are no numbers.
 */
export const between = (least: number, most: number) => z.number().min(least).max(most);
export const percent = z.number().min(0).max(100);
export const timestamp = z.iso.datetime().meta({ description: 'RFC 3339 in UTC' });
export const identifier = z.uuid().meta({ description: 'Identifier (UUID version 7)' });
