import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A folder for everything that a file of tests makes; the demo's temporary folders are made in `tmp` below it. */
export async function demoFolder() {
  const folder = await mkdtemp(join(tmpdir(), 'strutwright-demo-test-'));
  const tmp = join(folder, 'tmp');
  await mkdir(tmp);

  /** Starts the demo; `ended` resolves with what it said and its exit code. */
  function start(args: string[], more: NodeJS.ProcessEnv = {}) {
    const env = { PATH: process.env.PATH, HOME: process.env.HOME, TMPDIR: tmp, ...more };
    const child = spawn(process.execPath, ['dist/tests/demo/league.js', ...args], { env, stdio: ['ignore', 'pipe', 'pipe'] });
    const said = { out: '', err: '' };
    child.stdout.on('data', (chunk) => (said.out += chunk));
    child.stderr.on('data', (chunk) => (said.err += chunk));
    const ended = once(child, 'close').then(([code]) => ({ ...said, code: code as number | null }));
    return { child, said, ended };
  }
  return { folder, tmp, start, remove: () => rm(folder, { recursive: true, force: true }) };
}
export type DemoFolder = Awaited<ReturnType<typeof demoFolder>>;
