import { setTimeout as pause } from 'node:timers/promises';
import type { FastifyBaseLogger } from 'fastify';
import { Redis } from 'ioredis';
import { migrate, openRecords, type Records } from '../prisma/index.ts';
import { buildApp } from './app.ts';
import { type Changes, openChanges } from './changes.ts';
import type { Closers } from './closers.ts';
import type { Environment } from './environment.ts';
import { type Dispatch, openDispatch } from './queue.ts';

export interface Service {
  records: Records;
  /** Begins to answer requests; resolves with the address it can be reached at. */
  listen(): Promise<string>;
}

type Configured = Environment & { databaseUrl: string };

/**
 * Opens what the API process needs, each with its place in `closers`: the records (migrated), the queue's producing side, the shared
 * counters of the rate limits. Throws when the database cannot be reached.
 */
export async function openService(
  environment: Configured,
  { log, closers }: { log: FastifyBaseLogger; closers: Closers },
): Promise<Service> {
  const { databaseUrl, historyWithinMs } = environment;
  const toldBy = (part: string) => (error: Error) => log.warn({ part, err: error }, 'connection failed; it is tried again');
  await migrate(databaseUrl).catch((cause: unknown) => {
    throw new Error('the database cannot be used', { cause });
  });
  const records = openRecords({ databaseUrl, historyWithinMs, onError: toldBy('records') });
  closers.add(() => records.close());
  const changes = await openChanges({ databaseUrl, onError: toldBy('changes') });
  closers.add(() => changes.close());
  const dispatch = await openDispatch({ ...environment, redisUrl: environment.redisUrl ?? undefined, onError: toldBy('queue') });
  closers.add(() => dispatch.close());
  const redis = environment.redisUrl === null ? null : openCounters(environment.redisUrl, toldBy('limits'));
  if (redis) closers.add(async () => redis.disconnect());
  return { records, listen: () => listen({ environment, log, closers, records, changes, dispatch, redis }) };
}

/** Counters that do not answer at once are done without, so nothing waits for them. */
function openCounters(url: string, onError: (error: Error) => void): Redis {
  const redis = new Redis(url, { enableOfflineQueue: false, maxRetriesPerRequest: 0, connectTimeout: 2_000, commandTimeout: 500 });
  return redis.on('error', onError);
}

interface Listening {
  environment: Configured;
  log: FastifyBaseLogger;
  closers: Closers;
  records: Records;
  changes: Changes;
  dispatch: Dispatch;
  redis: Redis | null;
}

async function listen({ environment, log, closers, records, changes, dispatch, redis }: Listening): Promise<string> {
  const { host, port, drainMs } = environment;
  let closing = false;
  const limits = { requests: environment.rateLimitPerMinute, failedLogIns: environment.failedLogInsPerMinute };
  const app = await buildApp({ records, changes, dispatch, log, limits, redis, isClosing: () => closing });
  closers.add(() => app.close());
  closers.add(async () => {
    closing = true;
    await pause(drainMs);
  });
  return app.listen({ host, port }).catch((error: NodeJS.ErrnoException) => {
    if (error.code !== 'EADDRINUSE') throw error;
    throw new Error(`port ${port} of ${host} is taken; set PORT to another one, or to 0 for any that is free`);
  });
}
