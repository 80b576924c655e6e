import { spawnSync } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { chownSync, existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Binaries } from './binaries.ts';
import type { ServerUser } from './server-user.ts';

/** The data of one server. */
export interface Cluster {
  dir: string;
  /** Of the account postgres, asked for on every connection. */
  password: string;
  user: ServerUser | null;
}

/** Environment of the server's programs: nothing of ours, so that no PG* variable leads them astray. */
export const SERVER_ENVIRONMENT = { LC_ALL: 'C', TZ: 'UTC', PATH: '/usr/bin:/bin' };

/** How the server's programs are started: as the account, in the data folder. */
export const inCluster = ({ dir, user }: Omit<Cluster, 'password'>) => ({
  cwd: dir,
  env: SERVER_ENVIRONMENT,
  ...(user && { uid: user.uid, gid: user.gid }),
});

/**
 * The data folder as the server's programs name it. Another account may be unable to walk down to it (a clone in a closed folder), but it
 * is started inside, and this link leads a process to the folder it is in.
 */
export const ownFolder = ({ dir, user }: Omit<Cluster, 'password'>): string => (user ? '/proc/self/cwd' : dir);

const PASSWORD_FILE = 'strutwright-password';
/** The same, beside the data folder while that is made. */
const HANDED_OVER = 'password';

/** Opens the cluster in a folder, and makes it when there is none. Throws a clear sentence when another major version made it. */
export function openCluster(dir: string, binaries: Binaries, user: ServerUser | null): Cluster {
  if (!existsSync(join(dir, 'PG_VERSION'))) makeCluster(dir, binaries, user);
  const made = readFileSync(join(dir, 'PG_VERSION'), 'utf8').trim();
  if (made !== binaries.major) {
    throw new Error(`The data in ${dir} was made by PostgreSQL ${made}, and this is PostgreSQL ${binaries.major}; use another DATA_DIR.`);
  }
  return { dir, user, password: readFileSync(join(dir, PASSWORD_FILE), 'utf8') };
}

/** Makes it beside and renames it, so that a cluster is whole or not there; when two starts race, one's is kept. */
function makeCluster(dir: string, binaries: Binaries, user: ServerUser | null): void {
  const beside = mkdtempSync(`${dir}-`);
  const password = randomBytes(24).toString('base64url');
  try {
    const made = join(beside, 'cluster');
    mkdirSync(made, { mode: 0o700 });
    writeFileSync(join(beside, HANDED_OVER), password, { mode: 0o600 });
    if (user) for (const path of [beside, made, join(beside, HANDED_OVER)]) chownSync(path, user.uid, user.gid);
    initialise({ dir: made, user }, binaries);
    writeFileSync(join(made, PASSWORD_FILE), password, { mode: 0o600 });
    renameSync(made, dir);
  } catch (error) {
    if (!existsSync(join(dir, 'PG_VERSION'))) throw error;
  } finally {
    rmSync(beside, { recursive: true, force: true });
  }
}

/** The password is named from inside the data folder, since another account may be unable to walk down to any path of ours. */
function initialise(cluster: Omit<Cluster, 'password'>, binaries: Binaries): void {
  const settings = [
    '--username=postgres',
    '--auth=scram-sha-256',
    `--pwfile=../${HANDED_OVER}`,
    '--encoding=UTF8',
    '--locale=C',
    '--no-sync',
  ];
  const run = spawnSync(binaries.initdb, ['-D', ownFolder(cluster), ...settings], { ...inCluster(cluster), encoding: 'utf8' });
  if (run.status !== 0) throw new Error(`The embedded database could not be made: ${run.error?.message ?? run.stderr.trim()}`);
}
