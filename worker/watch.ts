import { CHANNELS } from '../openapi/jobs.ts';
import { type Computations, listen } from '../prisma/index.ts';
import type { EngineRun } from './engine-pool.ts';
import { repeat } from './repeat.ts';

/** Watches the runs of this worker: notes their progress and that they are alive, and stops those that were asked to be cancelled. */
export interface RunWatch {
  add(computationId: string, run: EngineRun): void;
  remove(computationId: string): void;
  /** Stops every run of this worker; their answers are `cancelled`. */
  stopAll(): void;
  readonly size: number;
  close(): Promise<void>;
}

export interface WatchOptions {
  databaseUrl: string;
  computations: Pick<Computations, 'progress' | 'heartbeat'>;
  onError(error: Error): void;
}

/** Progress is written at most this often, so that a run shorter than this writes none. */
const PROGRESS_MS = 500;
/** A run gives a sign of life this often; a cancellation whose notice was lost is seen after this long. */
const HEARTBEAT_MS = 2_000;

interface Watched {
  run: EngineRun;
  written: string;
}

export async function openWatch({ databaseUrl, computations, onError }: WatchOptions): Promise<RunWatch> {
  const watched = new Map<string, Watched>();
  const stop = (id: string) => watched.get(id)?.run.cancel();
  const listener = await listen({ databaseUrl, channel: CHANNELS.cancel, handler: stop, onError });

  const writeProgress = async () => {
    for (const [id, each] of [...watched]) {
      const at = each.run.at();
      if (!at || each.written === JSON.stringify(at)) continue;
      each.written = JSON.stringify(at);
      const { cancelRequested } = await computations.progress(id, at);
      if (cancelRequested) stop(id);
    }
  };
  const beat = async () => {
    if (watched.size > 0) (await computations.heartbeat([...watched.keys()])).forEach(stop);
  };
  const timers = [repeat(writeProgress, PROGRESS_MS, onError), repeat(beat, HEARTBEAT_MS, onError)];

  return {
    add: (id, run) => void watched.set(id, { run, written: '' }),
    remove: (id) => void watched.delete(id),
    stopAll: () => [...watched.keys()].forEach(stop),
    get size() {
      return watched.size;
    },
    close: async () => {
      await Promise.all(timers.map((timer) => timer.close()));
      await listener.close();
    },
  };
}
