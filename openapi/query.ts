import { z } from 'zod';

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i;

/** Query parameters arrive as text: a decimal number is read as one, anything else is left for the schema to refuse. */
const read = (value: unknown): unknown => (typeof value === 'string' && NUMBER.test(value) ? Number(value) : value);

/** A numeric query parameter, checked as `schema` once it has been read. */
export const numeric = <S extends z.ZodType>(schema: S) => z.preprocess(read, schema);

export const cursor = z
  .string()
  .min(1)
  .max(500)
  .regex(/^[A-Za-z0-9_-]+$/, 'the nextCursor of an earlier page, unchanged')
  .meta({ description: 'The nextCursor of the page before' });
export const limit = numeric(z.int().min(1).max(200)).default(50).meta({ description: 'Most items of a page' });

/** Query of a list without filters. */
export const pageQuery = z.strictObject({ limit, cursor: cursor.optional() });
export type PageQuery = z.infer<typeof pageQuery>;

/** One page of a list; `nextCursor` is null on the last one. */
export const pageOf = <S extends z.ZodType>(item: S) => z.strictObject({ items: z.array(item), nextCursor: z.string().nullable() });

/** Revisions and versions count from 1 and are stored in four bytes. */
export const ordinal = numeric(z.int().min(1).max(2_147_483_647));

/** A stored record may be asked for at an older revision; without one the newest answers. */
export const revisionQuery = z.strictObject({ revision: ordinal.optional() });
