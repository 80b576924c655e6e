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
