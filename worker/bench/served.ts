import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';

const KEY = 'bench-key-of-this-run-alone';
const START_MS = 60_000;
export const BEARER = { authorization: `Bearer ${KEY}` };

/** Works with a real API process of its own over a database; it is ended afterwards. */
export async function served<T>(databaseUrl: string, use: (api: { base: string }) => Promise<T>): Promise<T> {
  const dataDir = await mkdtemp(join(tmpdir(), 'strutwright-bench-api-'));
  const port = await freePort();
  const api = spawn(process.execPath, [new URL('../../api/main.js', import.meta.url).pathname], {
    env: { DATABASE_URL: databaseUrl, PORT: String(port), DATA_DIR: dataDir, BOOTSTRAP_API_KEY: KEY, LOG_LEVEL: 'silent' },
    stdio: 'ignore',
  });
  const base = `http://127.0.0.1:${port}`;
  try {
    await ready(base);
    return await use({ base });
  } finally {
    await ended(api);
    await rm(dataDir, { recursive: true, force: true });
  }
}

async function ready(base: string): Promise<void> {
  for (const until = performance.now() + START_MS; performance.now() < until; await pause(100)) {
    const answer = await fetch(`${base}/readyz`).catch(() => null);
    if (answer?.ok) return;
  }
  throw new Error(`The API did not start within ${START_MS / 1000} s`);
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as { port: number };
  server.close();
  await once(server, 'close');
  return port;
}

async function ended(api: ChildProcess): Promise<void> {
  if (api.exitCode !== null) return;
  api.kill('SIGTERM');
  await once(api, 'exit');
}
