import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readdirSync } from 'node:fs';
import { mkdir, mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openClient, type Result, result as resultSchema } from '../../openapi/index.ts';
import { databaseProcess, isAlive, startService } from '../api/start-process.ts';

/** A demo takes most of a minute on two idle cores; the other tests of a run share them. */
const PATIENCE_MS = 240_000;

/** Folder of everything this file makes; the demo's temporary folders are made in `tmp` below it. */
let folder: string;
let tmp: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'strutwright-demo-test-'));
  tmp = join(folder, 'tmp');
  await mkdir(tmp);
});
afterAll(() => rm(folder, { recursive: true, force: true }));

function start(args: string[], more: NodeJS.ProcessEnv = {}) {
  const env = { PATH: process.env.PATH, HOME: process.env.HOME, TMPDIR: tmp, ...more };
  const child = spawn(process.execPath, ['dist/tests/demo/league.js', ...args], { env, stdio: ['ignore', 'pipe', 'pipe'] });
  const said = { out: '', err: '' };
  child.stdout.on('data', (chunk) => (said.out += chunk));
  child.stderr.on('data', (chunk) => (said.err += chunk));
  const ended = once(child, 'close').then(([code]) => ({ ...said, code: code as number | null }));
  return { child, said, ended };
}

describe('the demo', () => {
  let out: string;
  let ended: Awaited<ReturnType<typeof start>['ended']>;
  let said: string;
  const results: Result[] = [];

  beforeAll(async () => {
    out = join(folder, 'league');
    ended = await start(['--out', out]).ended;
    said = ended.out.replace(/\s+/g, ' ');
    for (const name of (await readdir(out)).filter((name) => name.startsWith('version-')).sort())
      results.push(resultSchema.parse(JSON.parse(await readFile(join(out, name, 'result.json'), 'utf8'))));
  }, PATIENCE_MS);

  /** Cells of the line of a table that begins so, without its label; the first such line, or a later one. */
  const cells = (label: string, nth = 0) => {
    const line = ended.out.split('\n').filter((each) => each.startsWith(`  ${label} `))[nth];
    return line?.trim().split(/ {2,}/).slice(1);
  };
  const value = (result: Result, quantity: string) => result.targets.find((each) => each.quantity === quantity)!;

  test('ends well, says so, and leaves nothing in the folder of temporary files', async () => {
    expect(ended.code, ended.err).toBe(0);
    expect(said).toMatch(
      /Version 4 is the ball that was asked for: .* some \d+ mm by computation, to \d+ mm as "measured"\. It can be printed/,
    );
    expect(results[3].printability.verdict).not.toBe('fail');
    expect(await readdir(tmp)).toEqual([]);
  });

  test('goes from a poor start to all targets by searches of at most forty evaluations', () => {
    expect(results).toHaveLength(4);
    const met = results.map(({ targets }) => targets.map(({ within }) => within));
    expect(met[0]).toEqual([false, false, false, null]);
    expect(met[1].slice(0, 2)).toEqual([true, true]);
    expect(met[2].slice(0, 3)).toEqual([true, true, true]);
    expect(met[3].slice(0, 3)).toEqual([true, true, true]);
    for (const { massProperties, geometry } of results.slice(1)) {
      expect(Math.abs(massProperties.massG - 310)).toBeLessThanOrEqual(3);
      expect(geometry.circumferenceMm).toBeGreaterThanOrEqual(500);
      expect(geometry.circumferenceMm).toBeLessThanOrEqual(520);
    }
    const tried = [...said.matchAll(/Every target is met; (\d+) parameter sets were evaluated/g)].map(([, count]) => Number(count));
    expect(tried).toHaveLength(3);
    expect(tried[0] + tried[1]).toBeLessThanOrEqual(40);
    expect(ended.err).toMatch(/^ {2}search: \d+ tried, the nearest misses by [\d.]+ %, \d+ %$/m);
  });

  test('shows in its table what the files hold', () => {
    const shown = (decimals: number, number: (result: Result) => number) =>
      results.slice(0, 3).map((each) => number(each).toFixed(decimals));
    expect(cells('mass, g')).toEqual(shown(1, (each) => each.massProperties.massG));
    expect(cells('circumference, mm')).toEqual(shown(1, (each) => each.geometry.circumferenceMm));
    expect(cells('stiffness, N/mm')).toEqual(shown(2, (each) => each.stiffness!.secantNPerMm!));
    expect(cells('parts per build')).toEqual(shown(0, (each) => each.build.partsPerBuild));
    expect(cells('based on version')).toEqual(['-', '1', '2']);
    expect(cells('target: mass')?.at(-1)).toBe('met');
    expect(cells('target: mass')?.[0]).toBe(`missed, ${results[0].targets[0].missPct!.toFixed(1)} %`);
    for (const line of ended.out.split('\n').filter((line) => !line.includes(out))) expect(line.length, line).toBeLessThanOrEqual(100);
  });

  test('shows progress by stage, answers without news, and what the history finds', () => {
    expect(ended.err).toMatch(/^ {2}version 1: queued, 0 %$/m);
    expect(ended.err).toMatch(/^ {2}version 1: done, 100 %$/m);
    expect(ended.out).toMatch(/asked \d+ times for news, [1-9]\d* answers were 304/);
    expect(ended.out).toMatch(/ {2}2 of 3 evaluations: version \d \(/);
  });

  test('writes the graph of each version, and a picture with a marker for each', async () => {
    for (const [k, { geometry }] of results.entries()) {
      const graph = JSON.parse(await readFile(join(out, `version-${k + 1}`, 'graph.json'), 'utf8'));
      expect([graph.unit, graph.nodes.length, graph.struts.length]).toEqual(['mm', geometry.nodeCount, geometry.strutCount]);
    }
    const picture = await readFile(join(out, 'comparison.svg'), 'utf8');
    for (const { massProperties } of results) expect(picture).toContain(`>${massProperties.massG.toFixed(1)} g<`);
    expect(picture).toContain('wanted: 307 to 313 g');
  });

  test('shows its bounce beside the measured one, and says that nobody publishes a rebound of handballs', () => {
    const { rebound, targets } = results[2];
    expect(targets.map(({ quantity }) => quantity)).toEqual(['massG', 'circumferenceMm', 'stiffnessNPerMm', 'reboundHeightMm']);
    expect(rebound!.byOrientation).toHaveLength(6);
    expect(rebound!.energy.balanceErrorPct).toBeLessThan(0.5);
    const measured = value(results[2], 'reboundHeightMm').target!;
    expect(cells('rebound, mean, mm')).toEqual([rebound!.reboundHeightMm!.mean.toFixed(0), `${measured.toFixed(0)} (measured)`]);
    expect(said).toMatch(/No rebound of handballs is published, so the league dropped its own ball.*\(n = 6.*invented for this demo/);
    expect(said).toContain('(estimate)');
  });

  test('compares versions 3 and 4 with what is measured, which is said to be invented, and the second prediction lies closer', () => {
    expect(ended.out).toContain('3 parts of version 3 "printed", 15 tests entered: every number invented for this demo');
    expect(ended.out).toContain('5 parts of version 4 "printed", 25 tests entered: every number invented for this demo');
    for (const [nth, result] of [results[2], results[3]].entries()) {
      const [, predicted, measured, off] = cells('mass, g', nth + 1)!;
      expect(predicted.split(' ')[0]).toBe(result.massProperties.massG.toFixed(1));
      // both are rounded to 0.05 g of some 310, and the difference to 0.05 %
      expect(Math.abs(Number.parseFloat(off) - 100 * (Number(measured) / result.massProperties.massG - 1))).toBeLessThan(0.07);
    }
    const [, before, after] = /missed what was measured by ([\d.]+) %.*miss it by ([\d.]+) %/.exec(said)!.map(Number);
    expect(after).toBeLessThan(before / 2);
    expect(results[3].calibrated!.length).toBeGreaterThan(0);
    expect(results[3].material!.modulusMPa).toBeGreaterThan(results[2].material!.modulusMPa);
  });

  test('tells what the tests could not, and ends with the answer whether the measured parts are accepted', () => {
    expect(cells('modulus, factor')).toHaveLength(3);
    expect(said).toMatch(/say next to nothing of/);
    expect(ended.out).toMatch(/^ {2}version 4: accepted$/m);
    for (const quantity of ['massG', 'circumferenceMm', 'stiffnessNPerMm', 'reboundHeightMm'])
      expect(said).toContain(`- ${quantity}: accepted`);
  });
});

describe('a demo that cannot end well', () => {
  test('stopped by Ctrl-C while it waits for results, it stops its service, its database and itself', async () => {
    const { child, said, ended } = start(['--out', join(folder, 'stopped')]);
    let database: number | null = null;
    child.stderr.on('data', () => {
      if (database || !said.err.includes('version 1: ')) return;
      database = databaseProcess(join(tmp, readdirSync(tmp)[0], 'data'));
      child.kill('SIGINT');
    });
    const { code, err } = await ended;
    expect(code).toBe(1);
    expect(err).toMatch(/^The demo ends without a result\. Stopped by SIGINT\.$/m);
    expect(database).toBeGreaterThan(0);
    // Its process is counted as alive until the system has taken note of its end.
    await expect.poll(() => isAlive(database!), { timeout: 5_000 }).toBe(false);
    expect(await readdir(tmp)).toEqual([]);
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
    const { code, err } = await start(['--out', join(folder, 'none'), ...args], variables).ended;
    expect(code).toBe(1);
    expect(err).toMatch(/^The demo ends without a result\. /m);
    expect(err).toMatch(reason);
    expect(err).not.toMatch(/\n\s+at /);
  });
});

describe('a service that runs already', () => {
  test('is used, and left running with what is in its history when the demo is stopped', async () => {
    const dataDir = join(folder, 'data');
    const service = await startService(dataDir);
    try {
      const key = await readFile(join(dataDir, 'first-key'), 'utf8');
      const { child, said, ended } = start(['--out', join(folder, 'other')], { SERVICE_URL: service.url, SERVICE_KEY: key });
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
