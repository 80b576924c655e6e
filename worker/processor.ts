import { JOB_NAMES, type JobName } from '../openapi/jobs.ts';
import type { QueueJob } from './queue.ts';

/** One kind of job and what is done about it. Handlers are idempotent: a job may come twice. */
export interface Handler {
  name: JobName;
  handle(job: QueueJob, token: string): Promise<void>;
}

/**
 * The one processor of both queue backends: gives each job to the handler of its name. Throws at once, listing the names, unless every name
 * has exactly one handler.
 */
export function processorOf(handlers: readonly Handler[], names: readonly JobName[] = JOB_NAMES): Handler['handle'] {
  const byName = new Map(handlers.map((each) => [each.name, each]));
  const unhandled = names.filter((name) => !byName.has(name));
  const doubled = [...byName.keys()].filter((name) => handlers.filter((each) => each.name === name).length > 1);
  const unknown = [...byName.keys()].filter((name) => !names.includes(name));
  const faults = [
    ...unhandled.map((name) => `"${name}" has no handler`),
    ...doubled.map((name) => `"${name}" has more than one handler`),
    ...unknown.map((name) => `"${name}" is not the name of a job`),
  ];
  if (faults.length > 0) throw new Error(`The handlers do not fit the jobs: ${faults.join('; ')}`);
  return async (job, token) => {
    const handler = byName.get(job.name);
    if (!handler) throw new Error(`no handler for a job named "${job.name}"`);
    await handler.handle(job, token);
  };
}
