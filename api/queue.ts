import { createPostgresBackend, Queue, runMigrations, withBackend } from 'bullmq';
import type { FastifyBaseLogger } from 'fastify';
import { Redis } from 'ioredis';
import { Client } from 'pg';
import { type JobName, type Jobs, jobOptions, type Load, QUEUE_NAME, QUEUE_SCHEMA } from '../openapi/jobs.ts';
import type { Computations } from '../prisma/index.ts';

/** The queue did not take or answer a request in time: the caller answers 503. The row is saved, so a worker's sweeper adds the job later. */
export class QueueUnavailable extends Error {
  override readonly name = 'QueueUnavailable';
}

export interface QueueCounts {
  waiting: number;
  active: number;
  delayed: number;
  failed: number;
}

export interface Dispatch {
  /** Adds the computation's job; a job that is queued already stays one job. Throws QueueUnavailable within ANSWER_MS. */
  dispatch(computationId: string, load: Load): Promise<void>;
  /** Moves the computation's job to where it would be if it were added now, unless it is further ahead already. Throws as dispatch does. */
  hasten(computationId: string, load: { teamOutstanding: number }): Promise<void>;
  /** true when the queue answers within ANSWER_MS; never throws. */
  ready(): Promise<boolean>;
  /** Jobs by state, for the gauges. Throws QueueUnavailable. */
  counts(): Promise<QueueCounts>;
  close(): Promise<void>;
}

export interface DispatchOptions {
  /** Holds the queue's tables when there is no redisUrl. */
  databaseUrl: string;
  redisUrl?: string;
  /** Prefix of the keys in Redis, so that several installations can share one server. */
  redisPrefix?: string;
  /** Told of every connection error; the queue reconnects by itself. */
  onError(error: Error): void;
}

export interface QueueingOptions {
  teamId: string;
  computations: Pick<Computations, 'outstanding'>;
  dispatch: Pick<Dispatch, 'dispatch'>;
  log: FastifyBaseLogger;
}

export interface HasteningOptions extends Omit<QueueingOptions, 'dispatch'> {
  dispatch: Pick<Dispatch, 'hasten'>;
}

/**
 * Puts a computation on the queue. A queue that does not take the job is no failure of the request: the row is the truth, and a worker's
 * sweeper puts it on the queue later.
 */
export async function toQueue(computationId: string, { teamId, computations, dispatch, log }: QueueingOptions): Promise<void> {
  try {
    await dispatch.dispatch(computationId, { teamOutstanding: await computations.outstanding(teamId) });
  } catch (error) {
    log.warn({ err: error, computationId }, 'the queue did not take the job; it is left to the sweeper');
  }
}

/** Somebody waits now for what was queued as a point of a batch. Where that fails it keeps its place, which is no failure of the request. */
export async function toFront(computationId: string, { teamId, computations, dispatch, log }: HasteningOptions): Promise<void> {
  try {
    await dispatch.hasten(computationId, { teamOutstanding: await computations.outstanding(teamId) });
  } catch (error) {
    log.warn({ err: error, computationId }, 'the queue did not move the job; it keeps its place');
  }
}

/** Longest wait for the queue's answer before the producer gives up. */
export const ANSWER_MS = 2_000;

/** Nobody reads the queue's event stream: status is read from our own rows. */
const FEW_EVENTS = { events: { maxLen: 100 } };

/**
 * Opens the producing side of the queue: on Redis when redisUrl is given, else in the database (its tables are made when missing; several
 * processes may start at once). A Redis that is away does not stop the start: calls then fail fast. Throws when the database is away.
 */
export async function openDispatch(options: DispatchOptions): Promise<Dispatch> {
  const { queue, close } = options.redisUrl ? onRedis(options.redisUrl, options.redisPrefix) : await onPostgres(options.databaseUrl);
  queue.on('error', options.onError);
  return {
    dispatch: async (computationId, load) => {
      await answered(queue.add('evaluate', { computationId }, jobOptions(computationId, load)));
    },
    hasten: async (computationId, load) => {
      const { priority } = jobOptions(computationId, load);
      const job = await answered(queue.getJob(computationId));
      if (job && job.priority > priority) await answered(job.changePriority({ priority }));
    },
    ready: () =>
      answered(queue.getJobCounts('active')).then(
        () => true,
        () => false,
      ),
    counts: async () => {
      const { wait = 0, prioritized = 0, active = 0, delayed = 0, failed = 0 } = await answered(queue.getJobCounts());
      return { waiting: wait + prioritized, active, delayed, failed };
    },
    close,
  };
}

/**
 * One retry and no wait for a first connection: a dead Redis is an error within a second, not a hang. The connection is ours, not the queue's,
 * because the queue would wait for a farewell that a dead Redis never gives.
 */
function onRedis(url: string, prefix = QUEUE_NAME) {
  const connection = new Redis(url, { maxRetriesPerRequest: 1, connectTimeout: ANSWER_MS });
  const options = { connection, prefix, skipWaitingForReady: true, skipVersionCheck: true, streams: FEW_EVENTS };
  const queue = new Queue<Jobs[JobName], void, JobName>(QUEUE_NAME, options);
  const close = async () => {
    await queue.close();
    connection.disconnect();
  };
  return { queue, close };
}

async function onPostgres(connectionString: string) {
  const client = new Client({ connectionString });
  await client.connect();
  try {
    await runMigrations(client, QUEUE_SCHEMA);
  } finally {
    await client.end();
  }
  const connection = { connectionString, schema: QUEUE_SCHEMA, max: 4, connectionTimeoutMillis: ANSWER_MS };
  const { Queue: PostgresQueue } = withBackend(createPostgresBackend);
  const queue = new PostgresQueue<Jobs[JobName], void, JobName>(QUEUE_NAME, { connection, streams: FEW_EVENTS });
  return { queue, close: () => queue.close() };
}

/** The promise's value, or QueueUnavailable when it fails or takes longer than ANSWER_MS. */
async function answered<T>(request: Promise<T>): Promise<T> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new QueueUnavailable(`no answer within ${ANSWER_MS} ms`)), ANSWER_MS);
  });
  try {
    return await Promise.race([request, late]);
  } catch (cause) {
    throw cause instanceof QueueUnavailable ? cause : new QueueUnavailable('the queue refused the request', { cause });
  } finally {
    clearTimeout(timer);
  }
}
