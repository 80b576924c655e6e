/** Queue jobs hold identifiers only: our own tables are the truth. Each name has exactly one handler in the worker. */
export interface Jobs {
  evaluate: { computationId: string };
}
export type JobName = keyof Jobs;
export const JOB_NAMES: readonly JobName[] = ['evaluate'];

/** One queue for everything; in PostgreSQL its tables live in the schema of the same name. */
export const QUEUE_NAME = 'strutwright';
export const QUEUE_SCHEMA = 'bullmq';

/** PostgreSQL NOTIFY channels: a computation changed; a computation is to be cancelled (the payload is its id). */
export const CHANNELS = { changed: 'computation_changed', cancel: 'computation_cancel' } as const;

/** Attempts of one job. A retry is spent only on what it can fix: a crashed or starved engine thread, a database that was away. */
export const JOB_ATTEMPTS = 3;

/** Classes of urgency, most urgent first. None is 0: the queue would put such a job before every other one. */
export const URGENCY = { interactive: 1, search: 2, batch: 3 } as const;
export type Urgency = keyof typeof URGENCY;

/** What a job is queued for, default interactive, and how many runs its team has outstanding. */
export interface Load {
  urgency?: Urgency;
  teamOutstanding: number;
}

/**
 * How a job is queued, the same for whoever adds it. The job's id is the computation's, so that adding it twice leaves one job. Priority
 * (lower is sooner) is class * 10000 + min(9999, runs the team has outstanding): a team with a thousand runs does not hold up a team with one.
 */
export function jobOptions(computationId: string, { urgency = 'interactive', teamOutstanding }: Load) {
  return {
    jobId: computationId,
    priority: URGENCY[urgency] * 10_000 + Math.min(9_999, Math.max(0, Math.trunc(teamOutstanding))),
    attempts: JOB_ATTEMPTS,
    backoff: { type: 'exponential', delay: 500 },
    removeOnComplete: true,
    removeOnFail: { age: 24 * 3600 },
  };
}
