import { z } from 'zod';
import { identifier } from '../common.ts';
import { pageOf } from '../query.ts';

/** What several resources' routes are made of. */
const OF_A_FILE = ['ETag', 'Accept-Ranges', 'Content-Digest', 'Repr-Digest'] as const;

export const byId = z.strictObject({ id: identifier });
export const fileName = z.strictObject({
  id: identifier,
  name: z
    .string()
    .max(100)
    .regex(/^[A-Za-z0-9][A-Za-z0-9._-]*$/, 'letters, digits, dots, hyphens and underscores')
    .meta({ examples: ['graph.json'] }),
});

export const ok = <S extends z.ZodType>(schema: S, description: string, example: z.output<S>) =>
  ({ 200: { description, schema, headers: ['ETag'], example } }) as const;
export const page = <S extends z.ZodType>(item: S, description: string, ...items: z.output<S>[]) =>
  ({ 200: { description, schema: pageOf(item), headers: ['ETag'], example: { items, nextCursor: null } } }) as const;
export const created = <S extends z.ZodType>(schema: S, description: string) =>
  ({ 201: { description, schema, headers: ['Location'] } }) as const;

/** A plot drawn for this answer. */
export const drawing = (description: string) => ({ 200: { description, mediaType: 'image/svg+xml', headers: ['ETag'] } }) as const;

export const download = () =>
  ({
    200: { description: 'The file, in its own media type', mediaType: 'application/octet-stream', headers: OF_A_FILE },
    206: { description: 'A part of it', mediaType: 'application/octet-stream', headers: [...OF_A_FILE, 'Content-Range'] },
  }) as const;
