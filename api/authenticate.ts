import type { FastifyRequest } from 'fastify';
import type { Role } from '../openapi/index.ts';
import type { Keys } from '../prisma/index.ts';
import { matching, prefixOf } from './api-key.ts';
import type { Caller } from './handlers.ts';
import { Refusal } from './refusal.ts';

const LONGEST_KEY = 200;
/** The use of a key is noted to the minute. */
const NOTED_EVERY_MS = 60_000;

export interface AuthenticateOptions {
  keys: Keys;
  /** Counts a failed log-in from the request's address; answers the seconds to wait when there were too many. */
  countFailure(request: FastifyRequest): Promise<number | null>;
}

/**
 * Tells who asks from `Authorization: Bearer <key>`. Refuses with 401 without a valid key (429 when the address failed too often) and with
 * 403 when the key's role is not the one needed.
 */
export function authenticator({ keys, countFailure }: AuthenticateOptions): (request: FastifyRequest, needed?: Role) => Promise<Caller> {
  return async (request, needed) => {
    const key = bearer(request.headers.authorization);
    const stored = key && matching(key, await keys.withPrefix(prefixOf(key)));
    if (!stored) {
      const seconds = await countFailure(request);
      if (seconds !== null) throw tooMany(seconds, 'Too many failed log-ins from this address');
      throw new Refusal('unauthorized', {
        detail: 'Send a valid key as Authorization: Bearer <key>',
        headers: { 'www-authenticate': 'Bearer realm="strutwright"' },
      });
    }
    if (needed === 'admin' && stored.role !== 'admin') throw new Refusal('forbidden', { detail: 'Only an admin key may do this' });
    if (Date.now() - (stored.lastUsedAt?.getTime() ?? 0) > NOTED_EVERY_MS) {
      keys.touch(stored.id).catch((error: unknown) => request.log.warn({ err: error }, 'the use of a key was not noted'));
    }
    return { teamId: stored.teamId, keyId: stored.id, role: stored.role };
  };
}

function bearer(header: string | undefined): string | null {
  const key = /^Bearer +([\x21-\x7e]+) *$/i.exec(header ?? '')?.[1];
  return key !== undefined && key.length <= LONGEST_KEY ? key : null;
}

export const tooMany = (seconds: number, detail: string): Refusal =>
  new Refusal('too-many-requests', { detail: `${detail}; try again in ${seconds} s`, headers: { 'retry-after': String(seconds) } });
