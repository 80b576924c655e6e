import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

export interface Started {
  url: string;
  child: ChildProcess;
  /** Everything it and its worker wrote so far. */
  output(): string;
  /** Process ids of the workers started so far, in order. */
  workers(): number[];
  /** Sends the signal; resolves with the exit code and the milliseconds it took. */
  stop(signal?: NodeJS.Signals): Promise<{ code: number | null; ms: number }>;
}

function launch(dataDir: string, more: NodeJS.ProcessEnv) {
  const env = { PATH: process.env.PATH, HOME: process.env.HOME, DATA_DIR: dataDir, PORT: '0', LOG_LEVEL: 'info', ...more };
  const child = spawn(process.execPath, ['dist/api/start.js'], { env, stdio: ['ignore', 'pipe', 'pipe'] });
  let output = '';
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk) => (output += chunk));
  return { child, ended: once(child, 'close'), output: () => output };
}

/** `node dist/api/start.js` on a data folder, until it says that it is ready. */
export async function startService(dataDir: string, more: NodeJS.ProcessEnv = {}): Promise<Started> {
  const { child, ended, output } = launch(dataDir, more);
  const url = await new Promise<string>((resolve, reject) => {
    child.stdout.on('data', () => {
      const found = /^strutwright is ready at (\S+)/m.exec(output())?.[1];
      if (found) resolve(found);
    });
    void ended.then(() => reject(new Error(`it ended before it was ready:\n${output()}`)));
  });
  return {
    ...{ url, child, output },
    workers: () =>
      [...output().matchAll(/^\{.*"process":"worker".*"workerId":"[^":]*:(\d+):.*"msg":"worker started"/gm)].map(([, pid]) => Number(pid)),
    stop: async (signal = 'SIGTERM') => {
      const began = performance.now();
      child.kill(signal);
      const [code] = await ended;
      return { code, ms: performance.now() - began };
    },
  };
}

/** Runs a start that is to fail, to its end. */
export async function failedStart(dataDir: string, more: NodeJS.ProcessEnv = {}): Promise<{ code: number | null; output: string }> {
  const { ended, output } = launch(dataDir, more);
  const [code] = await ended;
  return { code, output: output() };
}

/** Process id of the embedded database; null when it does not run. */
export function databaseProcess(dataDir: string): number | null {
  const file = join(dataDir, 'postgres', 'postmaster.pid');
  return existsSync(file) ? Number(readFileSync(file, 'utf8').split('\n')[0]) : null;
}

export function isAlive(pid: number): boolean {
  try {
    return process.kill(pid, 0);
  } catch {
    return false;
  }
}
