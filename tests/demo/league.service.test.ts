import { readdirSync } from 'node:fs';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openClient } from '../../openapi/index.ts';
import { databaseProcess, isAlive, startService } from '../api/start-process.ts';
import { type DemoFolder, demoFolder } from './start.ts';

let demo: DemoFolder;
beforeAll(async () => {
  demo = await demoFolder();
});
afterAll(() => demo.remove());

describe('a demo that cannot end well', () => {
  test('stopped by Ctrl-C while it waits for results, it stops its service, its database and itself', async () => {
    const { child, said, ended } = demo.start(['--out', join(demo.folder, 'stopped')]);
    let database: number | null = null;
    child.stderr.on('data', () => {
      if (database || !said.err.includes('version 1: ')) return;
      database = databaseProcess(join(demo.tmp, readdirSync(demo.tmp)[0], 'data'));
      child.kill('SIGINT');
    });
    const { code, err } = await ended;
    expect(code).toBe(1);
    expect(err).toMatch(/^The demo ends without a result\. Stopped by SIGINT\.$/m);
    expect(database).toBeGreaterThan(0);
    // Its process is counted as alive until the system has taken note of its end.
    await expect.poll(() => isAlive(database!), { timeout: 5_000 }).toBe(false);
    expect(await readdir(demo.tmp)).toEqual([]);
  });

  test.each([
    [
      'an address that nobody answers at',
      [],
      { SERVICE_URL: 'http://127.0.0.1:65000', SERVICE_KEY: 'x' },
      /The service at http:\/\/127\.0\.0\.1:65000 does not answer: connect ECONNREFUSED/,
    ],
    ['an address without a key', [], { SERVICE_URL: 'http://127.0.0.1:9' }, /SERVICE_URL and SERVICE_KEY go together/],
    ['an address that is none', [], { SERVICE_URL: 'here', SERVICE_KEY: 'x' }, /SERVICE_URL is here; allowed: a URL/],
    ['an unknown option', ['--fast'], {}, /--fast/],
    ['a folder that cannot be made', ['--out', '/dev/null/league'], {}, /--out.*\/dev\/null\/league/],
  ])('says why in a sentence: %s', async (_, args, variables, reason) => {
    const { code, err } = await demo.start(['--out', join(demo.folder, 'none'), ...args], variables).ended;
    expect(code).toBe(1);
    expect(err).toMatch(/^The demo ends without a result\. /m);
    expect(err).toMatch(reason);
    expect(err).not.toMatch(/\n\s+at /);
  });
});

describe('a service that runs already', () => {
  test('is used, and left running with what is in its history when the demo is stopped', async () => {
    const dataDir = join(demo.folder, 'data');
    const service = await startService(dataDir);
    try {
      const key = await readFile(join(dataDir, 'first-key'), 'utf8');
      const { child, said, ended } = demo.start(['--out', join(demo.folder, 'other')], { SERVICE_URL: service.url, SERVICE_KEY: key });
      child.stdout.on('data', () => said.out.includes('Searching from version 1') && child.kill('SIGINT'));
      const { code, out, err } = await ended;
      expect(code, err).toBe(1);
      expect(out).not.toMatch(/Starting the service/);
      const { data } = await openClient({ baseUrl: service.url, key }).GET('/v1/evaluations', { params: { query: { status: 'done' } } });
      expect(data!.items.map(({ version }) => version)).toContain(1);
    } finally {
      await service.stop();
    }
  });
});
