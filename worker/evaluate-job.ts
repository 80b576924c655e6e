import { DelayedError, WaitingError } from 'bullmq';
import { ENGINE_VERSION } from '../openapi/engine-version.ts';
import { JOB_ATTEMPTS } from '../openapi/jobs.ts';
import type { Claim, Computations } from '../prisma/index.ts';
import type { EnginePool, RunAnswer } from './engine-pool.ts';
import type { Handler } from './processor.ts';
import type { QueueJob } from './queue.ts';
import { failureOf, type RunEnd } from './run-failures.ts';
import type { RunWatch } from './watch.ts';

export interface EvaluateOptions {
  computations: Pick<Computations, 'claim' | 'finish' | 'fail' | 'cancelled' | 'release' | 'isCancelRequested'>;
  pool: EnginePool;
  watch: RunWatch;
  workerId: string;
  /** Aborted when the worker is to stop: runs are then given back. */
  draining: AbortSignal;
  onEnd(end: RunEnd): void;
}

/** Starts of one computation, drained ones not counted, after which it is held to be what kills its workers. */
export const MOST_STARTS = 4;

/** How long a job waits for a worker with its engine, and how often it is tried. */
const OTHER_ENGINE_WAIT_MS = 10 * 60_000;
const OTHER_ENGINE_RETRY_MS = 5_000;

/**
 * The story of one evaluation: claim the row, run the engine, store what came of it. The row is the truth, so a job whose row is finished is
 * simply done, and what comes of a run is stored once whoever else ran it. Rejects only with what a retry can fix.
 */
export function evaluateHandler(options: EvaluateOptions): Handler {
  const { computations, pool, watch, draining, onEnd } = options;
  return {
    name: 'evaluate',
    handle: async (job, token) => {
      const id = job.data.computationId;
      if (draining.aborted) return giveBack(job, token);
      const claim = await computations.claim(id, options.workerId);
      if (!claim) return;
      if (claim.engineVersion !== ENGINE_VERSION) return leaveToOtherEngine(options, { job, token, claim });
      if (claim.attempts > MOST_STARTS) return fail(options, claim, 'worker-lost');

      const started = performance.now();
      const run = pool.start(claim);
      watch.add(id, run);
      if (draining.aborted) run.cancel();
      const answer = await run.answer;
      watch.remove(id);
      onEnd({ computationId: id, attempts: claim.attempts, seconds: (performance.now() - started) / 1000, answer });
      await store(options, { job, token, claim, answer });
    },
  };
}

interface Ended {
  job: QueueJob;
  token: string;
  claim: Claim;
  answer: RunAnswer;
}

async function store(options: EvaluateOptions, { job, token, claim, answer }: Ended): Promise<void> {
  const { computations, draining } = options;
  const id = claim.computationId;
  switch (answer.kind) {
    case 'done':
      await computations.finish(id, { result: answer.result, files: answer.files });
      return;
    case 'failed':
      await computations.fail(id, { error: answer.error, retryable: false, partial: answer.partial });
      return;
    case 'defect':
      return fail(options, claim, 'engine-defect');
    case 'crashed':
      if (claim.attempts >= JOB_ATTEMPTS) return fail(options, claim, answer.code);
      throw new Error(`the engine's thread ended: ${answer.code}`);
    case 'cancelled':
      if (draining.aborted && !(await computations.isCancelRequested(id))) {
        await computations.release(id);
        return giveBack(job, token);
      }
      // Someone wanted it again meanwhile: this very job goes round once more, for a job of the same id could not be added beside it.
      if ((await computations.cancelled(id)) === 'queued') return giveBack(job, token);
  }
}

async function fail({ computations }: EvaluateOptions, claim: Claim, code: Parameters<typeof failureOf>[0]): Promise<void> {
  await computations.fail(claim.computationId, failureOf(code));
}

/** Back to the front of its place in the queue; no attempt is charged. */
async function giveBack(job: QueueJob, token: string): Promise<never> {
  await job.moveToWait(token);
  throw new WaitingError();
}

/** While a new version is being rolled out both engines are there: the job waits for the right one, and fails when none came. */
async function leaveToOtherEngine(options: EvaluateOptions, { job, token, claim }: Omit<Ended, 'answer'>): Promise<void> {
  if (Date.now() - job.timestamp > OTHER_ENGINE_WAIT_MS) return fail(options, claim, 'engine-version-gone');
  await options.computations.release(claim.computationId);
  await job.moveToDelayed(Date.now() + OTHER_ENGINE_RETRY_MS, token);
  throw new DelayedError();
}
