import type { Computations, Idempotency, Retention, Retired } from '../prisma/index.ts';
import type { WorkQueue } from './queue.ts';
import { repeat } from './repeat.ts';

export interface SweeperOptions {
  computations: Pick<Computations, 'stale'>;
  idempotency: Pick<Idempotency, 'removeExpired'>;
  retention: Pick<Retention, 'apply'>;
  queue: Pick<WorkQueue, 'addAgain'>;
  afterMs: number;
  /** Told of each piece that the rules of a team let go. */
  onRetired(retired: Retired): void;
  onError(error: Error): void;
}

/** What is let go in one transaction, and how many of those a turn has at most. */
const PIECE = 200;
const PIECES = 5;

/**
 * Puts back on the queue what fell off it: computations queued for longer than afterMs (the row was saved, adding the job failed) and
 * running ones whose worker gave no sign of life for that long. Doing so for a job that is still there changes nothing. Removes what is kept of
 * answers whose day is over, too, and what the rules of teams let go.
 */
export function openSweeper({ computations, idempotency, retention, queue, afterMs, onRetired, onError }: SweeperOptions): {
  close(): Promise<void>;
} {
  const sweep = async () => {
    const ids = await computations.stale({ queuedMs: afterMs, silentMs: afterMs });
    if (ids.length > 0) await queue.addAgain(ids);
    await idempotency.removeExpired();
    for (let pieces = 0; pieces < PIECES; pieces++) {
      const retired = await retention.apply(PIECE);
      if (!retired) break;
      if (retired.madeFiles.count + retired.pointResults.count > 0) onRetired(retired);
    }
  };
  return repeat(sweep, Math.ceil(afterMs / 3), onError);
}
