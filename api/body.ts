import type { FastifyInstance, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { type FieldError, fieldErrors } from '../openapi/index.ts';
import { Refusal } from './refusal.ts';

/** Deeper than any body of the contract; what is deeper is refused before anything walks it recursively. */
const DEEPEST = 32;
/** Longest body that is searched for bare NaN and Infinity. */
const LONGEST_SEARCHED = 65_536;
const BARE_NUMBERS = /"(?:[^"\\]|\\.)*(?:"|\\?$)|-?\bInfinity\b|\bNaN\b/gs;
const POISON = new Set(['__proto__', 'constructor', 'prototype']);

export type ReadBody =
  | { ok: true; body: unknown }
  | { ok: false; kind: 'malformed'; detail: string }
  | { ok: false; kind: 'refused'; errors: FieldError[] };

/**
 * Reads a JSON body. `malformed`: not UTF-8 or not JSON. `refused`: JSON that nothing behind this door may meet: keys that reach an
 * object's prototype, text with NUL or half a surrogate pair (PostgreSQL stores neither), more than 32 levels. The bare words NaN and
 * Infinity, which some clients write though JSON has no such numbers, are read as numbers, so that the schema's refusal names their field
 * and its range.
 */
export function readBody(bytes: Uint8Array): ReadBody {
  let text = '';
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return guarded(JSON.parse(text));
  } catch (error) {
    if (error instanceof TypeError) return { ok: false, kind: 'malformed', detail: 'The body is not valid UTF-8' };
    return withBareNumbers(text) ?? { ok: false, kind: 'malformed', detail: `The body is not JSON: ${(error as Error).message}` };
  }
}

function guarded(body: unknown): ReadBody {
  const error = firstForbidden(body);
  return error ? { ok: false, kind: 'refused', errors: fieldErrors(error, body, z.unknown()) } : { ok: true, body };
}

/** Each bare word becomes text that begins with NUL, which no body that is accepted holds, and then the number. */
function withBareNumbers(text: string): ReadBody | null {
  if (text.length > LONGEST_SEARCHED) return null;
  const quoted = text.replace(BARE_NUMBERS, (found) => (found.startsWith('"') ? found : `"\\u0000${found}"`));
  if (quoted === text) return null;
  try {
    return guarded(
      JSON.parse(quoted, (_, value) => (typeof value === 'string' && value.startsWith('\0') ? Number(value.slice(1)) : value)),
    );
  } catch {
    return null;
  }
}

/** The first thing found that may not pass, level by level; an explicit list instead of recursion, so that depth is no danger. */
function firstForbidden(body: unknown): z.ZodError | null {
  const waiting: { value: unknown; path: (string | number)[] }[] = [{ value: body, path: [] }];
  const refused = (path: (string | number)[], message: string) => new z.ZodError([{ code: 'custom', path, message, input: undefined }]);
  for (let next = waiting.pop(); next; next = waiting.pop()) {
    const { value, path } = next;
    if (typeof value === 'string' && !storable(value)) return refused(path, 'allowed: text without NUL and without unpaired surrogates');
    if (typeof value !== 'object' || value === null) continue;
    if (path.length >= DEEPEST) return refused(path.slice(0, 3), `allowed: at most ${DEEPEST} levels, this goes deeper`);
    for (const [key, member] of Object.entries(value)) {
      if (POISON.has(key) || !storable(key)) return refused([...path, key], 'this key is allowed nowhere');
      waiting.push({ value: member, path: [...path, Array.isArray(value) ? Number(key) : key] });
    }
  }
  return null;
}

const storable = (text: string) => !text.includes('\0') && !/\p{Surrogate}/u.test(text);

declare module 'fastify' {
  interface FastifyContextConfig {
    /** Media type of bodies, where it is not JSON. */
    takes?: string;
  }
}

/** Refuses a body that is not of the media type its route takes. */
function checkMediaType(request: FastifyRequest, mediaType: string): void {
  const { takes = 'application/json' } = request.routeOptions.config;
  if (takes !== mediaType) throw new Refusal('unsupported-media-type', { detail: `The body is ${mediaType}; the route takes ${takes}` });
}

/** Takes JSON bodies, and CSV where a route says so, plain ones; everything else is 415. An empty body counts as none. */
export function readBodies(app: FastifyInstance): void {
  app.removeAllContentTypeParsers();
  app.addHook('preParsing', async (request) => {
    const coding = request.headers['content-encoding'];
    if (coding && coding !== 'identity') throw new Refusal('unsupported-media-type', { detail: 'A body must not be compressed' });
  });
  app.addContentTypeParser('application/json', { parseAs: 'buffer' }, async (request: FastifyRequest, bytes: Buffer) => {
    checkMediaType(request, 'application/json');
    if (bytes.length === 0) return undefined;
    const read = readBody(bytes);
    if (read.ok) return read.body;
    throw read.kind === 'malformed'
      ? new Refusal('malformed-body', { detail: read.detail })
      : new Refusal('invalid-body', { errors: read.errors });
  });
  app.addContentTypeParser('text/csv', { parseAs: 'buffer' }, async (request: FastifyRequest, bytes: Buffer) => {
    checkMediaType(request, 'text/csv');
    return readText(bytes);
  });
}

/** UTF-8 without NUL, which PostgreSQL does not store. */
function readText(bytes: Buffer): string {
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    if (storable(text)) return text;
  } catch {}
  throw new Refusal('malformed-body', { detail: 'The body is not valid UTF-8 text without NUL' });
}
