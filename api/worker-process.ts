import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';

const FIRST_PAUSE_MS = 500;
const LONGEST_PAUSE_MS = 30_000;
/** A worker that lived this long was not failing at its start: the pause before the next one is short again. */
const SETTLED_MS = 60_000;
/** Longest time for giving its runs back. */
const STOP_WITHIN_MS = 8_000;

export interface WorkerProcessOptions {
  file: string;
  env: NodeJS.ProcessEnv;
  onRestart(reason: string, pauseMs: number): void;
}

export interface WorkerProcess {
  /** Resolves when the first worker takes jobs; rejects when it ends before that. */
  started: Promise<void>;
  /** Resolves when the worker is gone. */
  stop(): Promise<void>;
}

/**
 * Keeps one worker process running: one that ends unasked is started again, after pauses that double. It is in a process group of its own,
 * so that a terminal's Ctrl-C reaches only this process, which then stops it in its turn; the channel between both tells it when this one
 * is gone.
 */
export function keepWorker({ file, env, onRestart }: WorkerProcessOptions): WorkerProcess {
  let child: ChildProcess;
  let timer: NodeJS.Timeout | undefined;
  let stopping = false;
  let pauseMs = FIRST_PAUSE_MS;

  const launch = () => {
    const launchedAt = Date.now();
    child = spawn(process.execPath, [file], { env, stdio: ['ignore', 'inherit', 'inherit', 'ipc'], detached: true });
    child.once('exit', (code, signal) => {
      if (stopping) return;
      if (Date.now() - launchedAt > SETTLED_MS) pauseMs = FIRST_PAUSE_MS;
      onRestart(`ended with ${signal ?? code}`, pauseMs);
      timer = setTimeout(launch, pauseMs);
      pauseMs = Math.min(2 * pauseMs, LONGEST_PAUSE_MS);
    });
    return child;
  };

  return {
    started: untilReady(launch()),
    stop: async () => {
      stopping = true;
      clearTimeout(timer);
      if (child.exitCode !== null || child.signalCode !== null) return;
      const gone = once(child, 'exit');
      child.kill('SIGTERM');
      const cutOff = setTimeout(() => child.kill('SIGKILL'), STOP_WITHIN_MS);
      await gone;
      clearTimeout(cutOff);
    },
  };
}

/** Resolves at the child's first message, which says that it takes jobs. */
function untilReady(child: ChildProcess): Promise<void> {
  return new Promise((resolve, reject) => {
    child.once('message', () => resolve());
    child.once('exit', () => reject(new Error('the worker process did not start; its reason is above')));
    child.once('error', reject);
  });
}
