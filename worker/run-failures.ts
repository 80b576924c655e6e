import type { RunError } from '../prisma/index.ts';
import type { RunAnswer } from './engine-pool.ts';

/** How a run ended, for the log and the metrics. */
export interface RunEnd {
  computationId: string;
  attempts: number;
  seconds: number;
  answer: RunAnswer;
}

/** Failures that are the service's, not the lattice's: what is said to the caller, and whether submitting again may help. */
const FAILURES = {
  'engine-out-of-memory': { message: 'The evaluation needed more memory than an engine thread may use.', retryable: true },
  'engine-crashed': { message: 'The engine ended unexpectedly each time the evaluation was run.', retryable: true },
  'engine-defect': { message: 'The engine failed on this input; the service has logged the cause.', retryable: false },
  'engine-version-gone': { message: 'No worker with the engine version of this evaluation came; submit it again.', retryable: true },
  'worker-lost': { message: 'The worker was lost each time the evaluation was run.', retryable: true },
} as const;

export function failureOf(code: keyof typeof FAILURES): { error: RunError; retryable: boolean } {
  const { message, retryable } = FAILURES[code];
  return { error: { code, message }, retryable };
}
