import { once } from 'node:events';
import { Worker } from 'node:worker_threads';
import { Piscina } from 'piscina';
import type { Claim, Work } from '../prisma/index.ts';
import { askToCancel, newBoard, readStage } from './engine-board.ts';
import type { EngineAnswer, EngineTask } from './engine-thread.ts';

/** What became of a run: the thread's answer, or the end of its thread. */
export type RunAnswer = EngineAnswer | { kind: 'crashed'; code: 'engine-out-of-memory' | 'engine-crashed'; reason: string };

export interface EngineRun {
  /** Never rejects. */
  answer: Promise<RunAnswer>;
  /** Stage and progress now; null before the first stage. */
  at(): { stage: string; progressPct: number } | null;
  /** Asks the engine to stop; a thread that has not stopped after KILL_AFTER_MS is ended. The answer is then `cancelled`. */
  cancel(): void;
}

export interface EnginePool {
  start(what: Work & Pick<Claim, 'inputHash'>): EngineRun;
  /** Ends all threads, whatever they do. */
  close(): Promise<void>;
}

/** The engine polls every few milliseconds; one that has not answered by now is stuck. */
const KILL_AFTER_MS = 3_000;

export interface PoolOptions {
  /** Module whose default export takes an EngineTask and gives an EngineAnswer. */
  threadFile: URL;
  threads: number;
  memoryMb: number;
  onError(error: Error): void;
}

/**
 * Opens the threads the engine runs on, so that no evaluation holds up the event loop that renews the locks of the jobs. Rejects when the
 * module does not load: a pool would start threads that die, without end.
 */
export async function openEnginePool(options: PoolOptions): Promise<EnginePool> {
  await loadOnce(options);
  const pool = new Piscina<EngineTask, EngineAnswer>({
    filename: options.threadFile.href,
    minThreads: options.threads,
    maxThreads: options.threads,
    resourceLimits: { maxOldGenerationSizeMb: options.memoryMb },
  });
  pool.on('error', options.onError);
  return {
    start: ({ inputHash, ...work }) => startRun(pool, { ...workOf(work), inputHash, board: newBoard() }),
    close: () => pool.destroy(),
  };
}

/** The work alone: a thread is sent no more than it needs. */
const workOf = (work: Work): Work =>
  ({ kind: work.kind, input: work.input, ...(work.kind === 'evaluation' && { keepsFiles: work.keepsFiles }) }) as Work;

/** Loads the module on a thread that ends again by itself, as nothing is asked of it. */
async function loadOnce({ threadFile, memoryMb }: PoolOptions): Promise<void> {
  const thread = new Worker(threadFile, { resourceLimits: { maxOldGenerationSizeMb: memoryMb } });
  const ended = await once(thread, 'exit').catch((cause: Error) => {
    throw new Error(`the engine cannot be loaded (${threadFile.pathname}): ${cause.message}`, { cause });
  });
  if (ended[0] !== 0) throw new Error(`the engine cannot be loaded (${threadFile.pathname}): its thread ended with code ${ended[0]}`);
}

function startRun(pool: Piscina<EngineTask, EngineAnswer>, task: EngineTask): EngineRun {
  const killing = new AbortController();
  let killTimer: NodeJS.Timeout | undefined;
  const answer = pool
    .run(task, { signal: killing.signal })
    .catch((error: Error) => (killing.signal.aborted ? { kind: 'cancelled' as const } : crash(error)))
    .finally(() => clearTimeout(killTimer));
  return {
    answer,
    at: () => readStage(task.board),
    cancel: () => {
      askToCancel(task.board);
      killTimer ??= setTimeout(() => killing.abort(), KILL_AFTER_MS);
    },
  };
}

function crash(error: Error): RunAnswer {
  const starved = 'code' in error && error.code === 'ERR_WORKER_OUT_OF_MEMORY';
  return { kind: 'crashed', code: starved ? 'engine-out-of-memory' : 'engine-crashed', reason: error.message };
}
