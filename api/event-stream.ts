import { setTimeout as pause } from 'node:timers/promises';
import { isFinal } from '../openapi/index.ts';
import type { EvaluationState, StatesQuery } from '../prisma/index.ts';
import { alarm } from './alarm.ts';
import type { Changes } from './changes.ts';

/** Notes of changes can be lost, so states are read anyway this often. */
const READ_AGAIN_MS = 2_000;
/** Changes that come in a row are told as one. */
const TOGETHER_MS = 100;
/** A comment now and then keeps proxies from hanging up. */
const HEARTBEAT_MS = 15_000;
/** Then the client comes again, and its key is checked again. */
const LONGEST_MS = 15 * 60_000;
/** How long a transaction may take to become visible after the moment it notes as its own. */
const LATE_MS = 10_000;

export interface EventStreamOptions {
  read(query: StatesQuery): Promise<{ at: Date; states: EvaluationState[] }>;
  /** The evaluations asked for; null: all of the team that are live, and those that come. */
  ids: readonly string[] | null;
  /** When the client last heard from us; null: never. */
  heardAt: Date | null;
  changes: Changes | null;
  signal: AbortSignal;
  /** Default: as above. */
  times?: { readAgainMs?: number; heartbeatMs?: number; longestMs?: number };
}

/**
 * Server-sent events (WHATWG HTML, 9.2): first the state of every evaluation asked for, then each change. Ends after an event `end` once all
 * that were asked for are final; ends without one when the signal comes or the time is over, so that the client comes again.
 */
export async function* eventStream(options: EventStreamOptions): AsyncGenerator<string> {
  const { read, ids, changes, signal } = options;
  const { readAgainMs = READ_AGAIN_MS, heartbeatMs = HEARTBEAT_MS, longestMs = LONGEST_MS } = options.times ?? {};
  const bell = alarm();
  const told = new Map<string, EvaluationState>();
  const watched = new Set<string>();
  const unsubscribe = changes?.subscribe((computationId) => void (watched.has(computationId) && bell.ring()));
  signal.addEventListener('abort', bell.ring);
  const began = performance.now();
  let spoke = began;
  let since = options.heardAt && earlier(options.heardAt);
  try {
    yield `retry: ${READ_AGAIN_MS}\n\n`;
    while (!signal.aborted && performance.now() - began < longestMs) {
      const unfinished = [...told.values()].filter(({ status }) => !isFinal(status)).map(({ id }) => id);
      const { at, states } = await read(ids ? { ids } : { ids: unfinished, live: { finishedSince: since } });
      for (const { computationId } of states) watched.add(computationId);
      const news = states.filter((state) => differs(state, told.get(state.id)));
      for (const state of news) told.set(state.id, state);
      if (news.length > 0 || performance.now() - spoke > heartbeatMs) {
        spoke = performance.now();
        yield news.map((state) => event(state, at)).join('') || ': still here\n\n';
      }
      if (ids && states.every(({ status }) => isFinal(status))) return yield 'event: end\ndata: {}\n\n';
      // What was posted and finished between two readings is told too; nothing that was final before the first one.
      since = since === null ? at : new Date(Math.max(since.getTime(), earlier(at).getTime()));
      await bell.wait(readAgainMs);
      if (!signal.aborted) await pause(TOGETHER_MS);
    }
  } finally {
    unsubscribe?.();
    signal.removeEventListener('abort', bell.ring);
  }
}

const earlier = (moment: Date) => new Date(moment.getTime() - LATE_MS);

const differs = (now: EvaluationState, before?: EvaluationState) =>
  before === undefined || now.status !== before.status || now.stage !== before.stage || now.progressPct !== before.progressPct;

const event = ({ id, status, stage, progressPct }: EvaluationState, at: Date) =>
  `event: evaluation\nid: ${at.getTime()}\ndata: ${JSON.stringify({ id, status, stage, progressPct })}\n\n`;
