import { createPostgresBackend, type Job, Queue, runMigrations, Worker, withBackend } from 'bullmq';
import { Client } from 'pg';
import { type JobName, type Jobs, jobOptions, type Load, QUEUE_NAME, QUEUE_SCHEMA } from '../openapi/jobs.ts';

export type QueueJob = Job<Jobs[JobName], void, JobName>;

export interface WorkQueue {
  /** Starts taking jobs. */
  start(): void;
  /** Takes no further job; those under way go on. */
  pause(): Promise<void>;
  /** Adds the jobs of computations. */
  add(computationIds: readonly string[], load: Load): Promise<void>;
  /** Adds the jobs of computations that may have lost theirs; a job that is waiting or under way stays as it is. */
  addAgain(computationIds: readonly string[]): Promise<void>;
  /** Resolves when the jobs under way have ended and every connection is closed. */
  close(): Promise<void>;
}

export interface WorkQueueOptions {
  databaseUrl: string;
  redisUrl: string | null;
  redisPrefix?: string;
  concurrency: number;
  lockMs: number;
  stalledMs: number;
  process(job: QueueJob, token: string): Promise<void>;
  onError(error: Error): void;
}

/** Times a job may be found without its worker before the queue gives up; the limit on starts in the processor is what usually ends it. */
const MOST_STALLS = 3;

/** Nobody reads the queue's event stream: status is read from our own rows. */
const FEW_EVENTS = { events: { maxLen: 100 } };

/**
 * Opens the consuming side of the queue: in Redis when redisUrl is given (commands then wait for a Redis that is away), else in the database
 * (its tables are made when missing; several processes may start at once). One processor serves both.
 */
export async function openWorkQueue(options: WorkQueueOptions): Promise<WorkQueue> {
  const { queue, worker } = options.redisUrl ? onRedis(options.redisUrl, options) : await onPostgres(options);
  queue.on('error', options.onError);
  worker.on('error', options.onError);
  return {
    start: () => void worker.run().catch(options.onError),
    pause: () => worker.pause(true),
    add: async (ids, load) => {
      const jobs = ids.map((id, k) => ({
        name: 'evaluate' as const,
        data: { computationId: id },
        opts: jobOptions(id, { ...load, teamOutstanding: load.teamOutstanding + k }),
      }));
      if (jobs.length > 0) await queue.addBulk(jobs);
    },
    addAgain: async (ids) => {
      const fallen = new Set(ids);
      for (const job of await queue.getFailed(0, -1)) if (fallen.has(job.id ?? '')) await job.remove();
      for (const id of ids) await queue.add('evaluate', { computationId: id }, jobOptions(id, { teamOutstanding: 0 }));
    },
    close: async () => {
      await worker.close();
      await queue.close();
    },
  };
}

function workerOptions({ concurrency, lockMs, stalledMs }: WorkQueueOptions) {
  return { concurrency, autorun: false, lockDuration: lockMs, stalledInterval: stalledMs, maxStalledCount: MOST_STALLS };
}

function onRedis(url: string, options: WorkQueueOptions) {
  const connection = { url, maxRetriesPerRequest: null };
  const shared = { connection, prefix: options.redisPrefix ?? QUEUE_NAME };
  return {
    queue: new Queue<Jobs[JobName], void, JobName>(QUEUE_NAME, { ...shared, streams: FEW_EVENTS }),
    worker: new Worker<Jobs[JobName], void, JobName>(QUEUE_NAME, (job, token) => options.process(job, token ?? ''), {
      ...shared,
      ...workerOptions(options),
    }),
  };
}

async function onPostgres(options: WorkQueueOptions) {
  const client = new Client({ connectionString: options.databaseUrl });
  await client.connect();
  try {
    await runMigrations(client, QUEUE_SCHEMA);
  } finally {
    await client.end();
  }
  // A settings object, not a pool: the worker then listens over a connection of its own.
  const connection = (max: number) => ({ connectionString: options.databaseUrl, schema: QUEUE_SCHEMA, max });
  const bound = withBackend(createPostgresBackend);
  return {
    queue: new bound.Queue<Jobs[JobName], void, JobName>(QUEUE_NAME, { connection: connection(1), streams: FEW_EVENTS }),
    worker: new bound.Worker<Jobs[JobName], void, JobName>(QUEUE_NAME, (job, token) => options.process(job, token ?? ''), {
      connection: connection(options.concurrency + 1),
      ...workerOptions(options),
    }),
  };
}
