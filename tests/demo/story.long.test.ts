import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Result, result as resultSchema } from '../../openapi/index.ts';
import { type DemoFolder, demoFolder } from './start.ts';

/** A demo takes one to two minutes on two idle cores. */
const PATIENCE_MS = 240_000;

describe('the demo', () => {
  let out: string;
  let demo: DemoFolder;
  let ended: Awaited<ReturnType<DemoFolder['start']>['ended']>;
  let said: string;
  const results: Result[] = [];

  beforeAll(async () => {
    demo = await demoFolder();
    out = join(demo.folder, 'league');
    ended = await demo.start(['--out', out]).ended;
    said = ended.out.replace(/\s+/g, ' ');
    for (const name of (await readdir(out)).filter((name) => name.startsWith('version-')).sort())
      results.push(resultSchema.parse(JSON.parse(await readFile(join(out, name, 'result.json'), 'utf8'))));
  }, PATIENCE_MS);
  afterAll(() => demo.remove());

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
    expect(await readdir(demo.tmp)).toEqual([]);
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
