import { createHash } from 'node:crypto';

export type Requested = { kind: 'whole' } | { kind: 'part'; first: number; last: number } | { kind: 'unsatisfiable' };

const WHOLE: Requested = { kind: 'whole' };
/** One range of bytes; several may be ignored (RFC 9110, section 14.2), and are. */
const ONE = /^bytes=[ \t]*(\d*)-(\d*)[ \t]*$/i;

/**
 * What a request asks for of a file (RFC 9110, section 14): a part, when Range names one range of bytes and If-Range, if there is one, is the
 * file's ETag. What is no such range asks for the whole. `unsatisfiable`: it begins behind the end, or is of no bytes.
 */
export function requestedRange(
  { range, ifRange }: { range?: string; ifRange?: string },
  { size, etag }: { size: number; etag: string },
): Requested {
  const [, from, to] = ONE.exec(range ?? '') ?? [];
  if (from === undefined || (from === '' && to === '')) return WHOLE;
  if (ifRange !== undefined && ifRange !== etag) return WHOLE;
  if (from === '') return Number(to) === 0 || size === 0 ? { kind: 'unsatisfiable' } : part(Math.max(0, size - Number(to)), size - 1);
  if (to !== '' && Number(to) < Number(from)) return WHOLE;
  return Number(from) >= size ? { kind: 'unsatisfiable' } : part(Number(from), to === '' ? size - 1 : Math.min(Number(to), size - 1));
}

const part = (first: number, last: number): Requested => ({ kind: 'part', first, last });

/** A digest as the fields Content-Digest and Repr-Digest hold it (RFC 9530). */
export const digestField = (sha256: Buffer): string => `sha-256=:${sha256.toString('base64')}:`;
export const digestOf = (bytes: Buffer): string => digestField(createHash('sha256').update(bytes).digest());
