import { spawn } from 'node:child_process';
import { closeSync, openSync, readFileSync, readlinkSync, realpathSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { totalmem } from 'node:os';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import type { Binaries } from './binaries.ts';
import { type Cluster, inCluster, ownFolder } from './cluster.ts';

/** A server that is up. */
export interface Postmaster {
  pid: number;
  port: number;
}

const LOOK_MS = 10;
const START_MS = 60_000; // recovery after a crash may replay a lot
const FAST_AFTER_MS = 1_500;

/** The lines of postmaster.pid, the mark of a running server; it may be left over from one that was killed. */
function readMark({ dir }: Cluster): string[] {
  try {
    return readFileSync(join(dir, 'postmaster.pid'), 'utf8').split('\n');
  } catch {
    return [];
  }
}

/** The server that the mark names, once it accepts connections (lines 1, 4 and 8). */
export function readPostmaster(cluster: Cluster): Postmaster | null {
  const lines = readMark(cluster);
  return lines[7]?.trim() === 'ready' ? { pid: Number(lines[0]), port: Number(lines[3]) } : null;
}

/**
 * Removes the mark of a server that is gone when its number now belongs to some other process (common in containers), which would keep a
 * server from starting. A server's working folder is its data folder; where that cannot be seen, the mark is left to the server to judge.
 */
export function removeStaleMark(cluster: Cluster): void {
  const [pid] = readMark(cluster);
  if (process.platform !== 'linux' || !pid || folderOf(pid) === realpathSync(cluster.dir)) return;
  rmSync(join(cluster.dir, 'postmaster.pid'), { force: true });
}

function folderOf(pid: string): string | null {
  try {
    return readlinkSync(`/proc/${pid}/cwd`);
  } catch {
    return null; // gone, or another account's, so not ours
  }
}

/** Starts the server, detached so that a signal to our group leaves it to us, and waits until it is ready; null when it ended instead. */
export async function startPostmaster(
  cluster: Cluster,
  binaries: Binaries,
  options: { logFile: string; durable: boolean },
): Promise<Postmaster | null> {
  const port = await freePort();
  const log = openSync(options.logFile, 'a', 0o600);
  const settings = [
    ...[`port=${port}`, 'listen_addresses=127.0.0.1', 'unix_socket_directories=', 'max_connections=200'],
    `shared_buffers=${sharedBuffersMb()}MB`,
  ];
  if (!options.durable) settings.push('fsync=off', 'synchronous_commit=off', 'full_page_writes=off');
  const child = spawn(binaries.postgres, ['-D', ownFolder(cluster), ...settings.flatMap((setting) => ['-c', setting])], {
    ...inCluster(cluster),
    detached: true,
    stdio: ['ignore', log, log],
  });
  closeSync(log);
  child.on('error', () => {}); // seen below: there is no pid, or it has ended
  child.unref();
  for (let waited = 0; child.pid !== undefined && child.exitCode === null && child.signalCode === null; waited += LOOK_MS) {
    const found = readPostmaster(cluster);
    if (found?.pid === child.pid) return found;
    if (waited > START_MS) throw new Error(`The embedded database is not ready after ${START_MS / 1000} s; see ${options.logFile}`);
    await delay(LOOK_MS);
  }
  return null;
}

/**
 * Pages that the server holds: a quarter of the memory, as PostgreSQL's manual advises (Resource Consumption, shared_buffers), at most 1 GB, with which
 * the pages of a history of a million evaluations were measured. What is not used is not taken.
 */
function sharedBuffersMb(): number {
  const bytes = Math.min(totalmem(), process.constrainedMemory() || Number.POSITIVE_INFINITY);
  return Math.max(128, Math.min(1024, Math.floor(bytes / 4 / 2 ** 20)));
}

/**
 * Stops the server in order (SIGTERM), and by cutting connections (SIGINT) when clients keep it for more than 1.5 s. It is gone when it
 * has taken its mark away: a server that was taken over may stay in the process table until somebody asks after it.
 */
export async function stopPostmaster(cluster: Cluster, { pid }: Postmaster): Promise<void> {
  signal(pid, 'SIGTERM');
  for (let waited = 0; signal(pid, 0) && readMark(cluster)[0] === String(pid); waited += LOOK_MS) {
    if (waited === FAST_AFTER_MS) signal(pid, 'SIGINT');
    await delay(LOOK_MS);
  }
}

function signal(pid: number, name: NodeJS.Signals | 0): boolean {
  try {
    return process.kill(pid, name);
  } catch {
    return false;
  }
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const { port } = probe.address() as { port: number };
      probe.close(() => resolve(port));
    });
  });
}
