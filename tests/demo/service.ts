import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export interface TemporaryService {
  url: string;
  key: string;
  seconds: number;
  /** Stops the service and removes its folder; resolves when both are gone. */
  stop(): Promise<void>;
}

const START = fileURLToPath(new URL('../../api/start.js', import.meta.url));
/** The service allows itself 20 s for closing. */
const STOP_WITHIN_MS = 25_000;
/** Characters kept of what it says. */
const MOST_KEPT = 4000;
/** What would make it another service than the one that a first start gives. */
const NOT_PASSED_ON = ['DATABASE_URL', 'REDIS_URL', 'REDIS_PREFIX', 'BOOTSTRAP_API_KEY', 'HOST', 'RATE_LIMIT_PER_MINUTE', 'DRAIN_MS'];

/** Starts the service as a user does on a machine without any other service: a folder of its own, a free port, the key of a first start. */
export async function startService(signal: AbortSignal): Promise<TemporaryService> {
  const began = performance.now();
  const folder = await mkdtemp(join(tmpdir(), 'strutwright-league-'));
  const unwanted = Object.fromEntries(NOT_PASSED_ON.map((name) => [name, undefined]));
  const env = { ...process.env, ...unwanted, DATA_DIR: join(folder, 'data'), PORT: '0', LOG_LEVEL: 'warn' };
  const child = spawn(process.execPath, [START], { env, stdio: ['ignore', 'pipe', 'pipe'] });
  const stop = async () => {
    await end(child);
    await rm(folder, { recursive: true, force: true });
  };
  try {
    const url = await untilReady(child, signal);
    const key = await readFile(join(env.DATA_DIR, 'first-key'), 'utf8');
    return { url, key, seconds: (performance.now() - began) / 1000, stop };
  } catch (error) {
    await stop();
    throw error;
  }
}

/** Resolves with the address that the service says it is ready at; rejects with its complaint when it ends before. */
function untilReady(child: ChildProcess, signal: AbortSignal): Promise<string> {
  return new Promise((resolve, reject) => {
    let [told, complaint] = ['', ''];
    child.stdout!.on('data', (chunk) => {
      told = (told + chunk).slice(-MOST_KEPT);
      const url = /^strutwright is ready at (\S+)/m.exec(told)?.[1];
      if (url) resolve(url);
    });
    child.stderr!.on('data', (chunk) => (complaint = (complaint + chunk).slice(-MOST_KEPT)));
    child.once('error', reject);
    child.once('close', (code, name) =>
      reject(new Error(`The service did not start. ${complaint.trim() || `It ended with ${name ?? code}.`}`)),
    );
    signal.addEventListener('abort', () => reject(signal.reason), { once: true });
    if (signal.aborted) reject(signal.reason);
  });
}

/** Ends the service, as a whole where it obeys; what a kill leaves of its database stops by itself once its folder is gone. */
async function end(child: ChildProcess): Promise<void> {
  if (child.pid === undefined || child.exitCode !== null || child.signalCode !== null) return;
  const gone = once(child, 'exit');
  child.kill('SIGTERM');
  const cutOff = setTimeout(() => child.kill('SIGKILL'), STOP_WITHIN_MS);
  await gone;
  clearTimeout(cutOff);
}
