import type { Computations, Idempotency } from '../prisma/index.ts';
import type { WorkQueue } from './queue.ts';
import { repeat } from './repeat.ts';

export interface SweeperOptions {
  computations: Pick<Computations, 'stale'>;
  idempotency: Pick<Idempotency, 'removeExpired'>;
  queue: Pick<WorkQueue, 'addAgain'>;
  afterMs: number;
  onError(error: Error): void;
}

/**
 * Puts back on the queue what fell off it: computations queued for longer than afterMs (the row was saved, adding the job failed) and
 * running ones whose worker gave no sign of life for that long. Doing so for a job that is still there changes nothing. Removes what is kept of
 * answers whose day is over, too.
 */
export function openSweeper({ computations, idempotency, queue, afterMs, onError }: SweeperOptions): { close(): Promise<void> } {
  const sweep = async () => {
    const ids = await computations.stale({ queuedMs: afterMs, silentMs: afterMs });
    if (ids.length > 0) await queue.addAgain(ids);
    await idempotency.removeExpired();
  };
  return repeat(sweep, Math.ceil(afterMs / 3), onError);
}
