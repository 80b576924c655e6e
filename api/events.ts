import { Readable } from 'node:stream';
import type { FastifyInstance } from 'fastify';
import type { Evaluations } from '../prisma/index.ts';
import type { Changes } from './changes.ts';
import { type EventStreamOptions, eventStream } from './event-stream.ts';
import type { Handlers } from './handlers.ts';
import { Refusal } from './refusal.ts';

/** Streams of one process: each reads the database every other second. */
const MOST_STREAMS = 500;
/** Milliseconds, as our own events have them for an id. */
const EVENT_ID = /^\d{1,15}$/;
/** What was missed for longer than this is not told again. */
const LONGEST_AWAY_MS = 24 * 3600 * 1000;

export interface EventsOptions {
  evaluations: Pick<Evaluations, 'states'>;
  changes: Changes | null;
  times?: EventStreamOptions['times'];
}

/** Progress of evaluations as server-sent events. Every open stream ends before the server closes. */
export function eventHandlers(app: FastifyInstance, { evaluations, changes, times }: EventsOptions): Handlers<'followEvaluations'> {
  const open = new Set<AbortController>();
  app.addHook('preClose', async () => {
    for (const each of open) each.abort();
  });
  return {
    followEvaluations: async ({ query, headers, caller: { teamId } }) => {
      const ids = query.evaluationId === undefined ? null : [query.evaluationId].flat();
      if (ids) await refuseUnknown(ids, (await evaluations.states(teamId, { ids })).states);
      if (open.size >= MOST_STREAMS) throw new Refusal('overloaded', { headers: { 'retry-after': '5' } });
      const closing = new AbortController();
      open.add(closing);
      const read: EventStreamOptions['read'] = (asked) => evaluations.states(teamId, asked);
      const heardAt = moment(headers['last-event-id']);
      const events = eventStream({ read, ids, heardAt, changes, signal: closing.signal, times });
      const body = Readable.from(events, { objectMode: false });
      body.once('close', () => {
        open.delete(closing);
        closing.abort();
      });
      return { body, headers: { 'content-type': 'text/event-stream', 'cache-control': 'no-store', 'x-accel-buffering': 'no' } };
    },
  };
}

function moment(eventId: string | string[] | undefined): Date | null {
  if (typeof eventId !== 'string' || !EVENT_ID.test(eventId)) return null;
  return new Date(Math.max(Number(eventId), Date.now() - LONGEST_AWAY_MS));
}

function refuseUnknown(ids: readonly string[], known: readonly { id: string }[]): void {
  const unknown = ids.find((id) => !known.some((each) => each.id === id));
  if (unknown === undefined) return;
  const detail = `is ${JSON.stringify(unknown)}, which is not known; allowed: ids of evaluations of the team`;
  throw new Refusal('invalid-query', { errors: [{ pointer: '/evaluationId', value: unknown, detail }] });
}
