import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, onTestFinished, test } from 'vitest';
import { startEmbedded } from '../../prisma/index.ts';

let dataDir: string;
beforeEach(async () => {
  dataDir = await mkdtemp(join(tmpdir(), 'strutwright-test-'));
});
afterEach(() => rm(dataDir, { recursive: true, force: true }));

async function answerOf(databaseUrl: string, statement: string): Promise<Record<string, unknown>[]> {
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  return client.query(statement).then(
    ({ rows }) => client.end().then(() => rows),
    (error) => client.end().then(() => Promise.reject(error)),
  );
}

const postmasterPid = async () => Number((await readFile(join(dataDir, 'postgres', 'postmaster.pid'), 'utf8')).split('\n')[0]);
async function expectGone(databaseUrl: string): Promise<void> {
  await expect(answerOf(databaseUrl, 'select 1')).rejects.toThrow('ECONNREFUSED');
  await expect(postmasterPid()).rejects.toThrow('ENOENT');
}

/** Another process that starts the embedded server and keeps it; it prints the database's address. */
const OTHER = `import { startEmbedded } from '${new URL('../../dist/prisma/index.js', import.meta.url)}';
  const { databaseUrl } = await startEmbedded({ dataDir: process.argv[1] });
  console.log(databaseUrl);
  setInterval(() => {}, 1000);`;

async function startOther(): Promise<{ other: ChildProcess; databaseUrl: string }> {
  const other = spawn(process.execPath, ['--input-type=module', '-e', OTHER, dataDir], { stdio: ['ignore', 'pipe', 'inherit'] });
  const [line] = await once(other.stdout!, 'data');
  return { other, databaseUrl: String(line).trim() };
}

describe('the embedded database', () => {
  test('starts in an empty folder, keeps what was written, and is gone when stopped', async () => {
    const first = await startEmbedded({ dataDir });
    await answerOf(first.databaseUrl, 'create table kept as select 7 as n');
    await first.stop();
    await expectGone(first.databaseUrl);
    const second = await startEmbedded({ dataDir, durable: false });
    expect(await answerOf(second.databaseUrl, 'select n from kept')).toEqual([{ n: 7 }]);
    await second.stop();
  });

  test('lets nobody in without the password, and is not reachable from outside', async () => {
    const { databaseUrl, stop } = await startEmbedded({ dataDir, durable: false });
    const wrong = new URL(databaseUrl);
    expect(wrong.password.length).toBeGreaterThan(20);
    expect(wrong.hostname).toBe('127.0.0.1');
    wrong.password = 'postgres';
    await expect(answerOf(wrong.href, 'select 1')).rejects.toThrow('password authentication failed');
    expect(await answerOf(databaseUrl, 'show listen_addresses')).toEqual([{ listen_addresses: '127.0.0.1' }]);
    const { mode } = await stat(join(dataDir, 'postgres'));
    expect(mode & 0o077).toBe(0);
    await stop();
  });

  test('stops although a client holds a connection', async () => {
    const { databaseUrl, stop } = await startEmbedded({ dataDir, durable: false });
    const client = new pg.Client({ connectionString: databaseUrl });
    client.on('error', () => {}); // the cut that is waited for
    await client.connect();
    const begun = performance.now();
    await stop();
    // 1.5 s of patience, then the cut and the last checkpoint; the rest is room for a busy machine. Without the cut it would wait for ever.
    expect(performance.now() - begun).toBeLessThan(10_000);
    await client.end().catch(() => {});
  });
});

describe('a second start on the same folder', () => {
  test('is refused with a sentence while the first runs, in this and in another process, and disturbs nothing', async () => {
    const { other, databaseUrl } = await startOther();
    const pid = await postmasterPid();
    await expect(startEmbedded({ dataDir, durable: false })).rejects.toThrow(`${dataDir} is in use by another running strutwright`);
    expect(await answerOf(databaseUrl, 'select 1 as one')).toEqual([{ one: 1 }]);
    expect(await postmasterPid()).toBe(pid);
    other.kill('SIGKILL');
    await once(other, 'exit');
    await (await startEmbedded({ dataDir, durable: false })).stop();
  });

  test('takes over the server whose owner was killed, as it runs', async () => {
    const { other, databaseUrl } = await startOther();
    const pid = await postmasterPid();
    other.kill('SIGKILL');
    await once(other, 'exit');
    const taken = await startEmbedded({ dataDir, durable: false });
    expect(taken.databaseUrl).toBe(databaseUrl);
    expect(await postmasterPid()).toBe(pid);
    await taken.stop();
    await expectGone(databaseUrl);
  });

  test('recovers when server and owner were killed together and another process has the number of the server', async () => {
    const { other, databaseUrl } = await startOther();
    await answerOf(databaseUrl, 'create table kept as select 7 as n');
    const pid = await postmasterPid();
    other.kill('SIGKILL');
    process.kill(pid, 'SIGKILL');
    await once(other, 'exit');
    const cluster = join(dataDir, 'postgres');
    const { uid, gid } = await stat(cluster);
    const namesake = spawn('sleep', ['600'], { uid, gid });
    onTestFinished(() => void namesake.kill());
    const mark = join(cluster, 'postmaster.pid');
    await writeFile(mark, (await readFile(mark, 'utf8')).replace(String(pid), String(namesake.pid)));
    const { databaseUrl: recovered, stop } = await startEmbedded({ dataDir, durable: false });
    expect(await answerOf(recovered, 'select n from kept')).toEqual([{ n: 7 }]);
    await stop();
  });

  test('of five that start at once in an empty folder, one owns it and four are refused', async () => {
    const starts = await Promise.allSettled(Array.from({ length: 5 }, () => startEmbedded({ dataDir, durable: false })));
    const owners = starts.flatMap((start) => (start.status === 'fulfilled' ? start.value : []));
    const refusals = starts.flatMap((start) => (start.status === 'rejected' ? String(start.reason) : []));
    expect(owners).toHaveLength(1);
    expect(refusals.map((reason) => reason.includes('is in use by another running strutwright'))).toEqual([true, true, true, true]);
    await owners[0].stop();
  });
});

test('data of another major version is refused by name', async () => {
  await (await startEmbedded({ dataDir, durable: false })).stop();
  await writeFile(join(dataDir, 'postgres', 'PG_VERSION'), '12\n');
  await expect(startEmbedded({ dataDir, durable: false })).rejects.toThrow(/made by PostgreSQL 12, and this is PostgreSQL \d+/);
});
