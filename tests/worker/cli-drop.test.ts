import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { exampleParameterSet } from '../../openapi/examples.ts';
import { reboundResult } from '../../openapi/index.ts';
import { command, type Folder, openFolder } from './cli.ts';

let folder: Folder;
let graph: string;
beforeAll(async () => {
  folder = await openFolder();
  const parameterSet = {
    ...{ carrier: { shape: 'sphere', outsideDiameterMm: 70 }, tiling: { kind: 'goldberg', m: 1, n: 1, orientation: 'pentagon-up' } },
    layers: [
      { depthMm: 0, strutDiameterMm: 3 },
      { depthMm: 8, strutDiameterMm: 2.5 },
    ],
    links: { pattern: 'posts', strutDiameterMm: 2 },
  };
  const input = await folder.write('input.json', { parameterSet, material: 'tpu-soft', buildVolume: 'small-polymer' });
  await command(['evaluate', input, '--out', folder.path('ball')]);
  graph = `${folder.path('ball')}/graph.json`;
});
afterAll(() => folder.close());

const TPU = ['--modulusMPa', '60', '--referenceHz', '30', '--poisson', '0.45', '--densityGCm3', '1.1', '--lossFactor', '0.12'];
const drop = (path: string, ...more: string[]) => command(['drop', path, ...TPU, ...more]);

describe('strutwright drop', () => {
  it('gives one JSON object: the rebound of a result, as stored first, then seeded directions', async () => {
    const { code, stdout, stderr } = await drop(graph, '--heightMm', '300', '--orientations', '3', '--seed', '7');
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    const rebound = reboundResult.parse(JSON.parse(stdout));
    expect(rebound.byOrientation.map(({ name }) => name)).toEqual(['as-stored', 'random-1', 'random-2']);
    expect(rebound.dropHeightMm).toBe(300);
    const heights = rebound.byOrientation.map((each) => each.reboundHeightMm!);
    expect([Math.min(...heights), Math.max(...heights)]).toEqual([rebound.reboundHeightMm!.min, rebound.reboundHeightMm!.max]);
    for (const { reboundHeightMm, restitution } of rebound.byOrientation) expect(restitution! ** 2 * 300).toBeCloseTo(reboundHeightMm!, 9);
    // half a percent is what is asked of every run
    expect(rebound.energy.balanceErrorPct).toBeLessThan(0.5);
    expect((await drop(graph, '--heightMm', '300', '--orientations', '3', '--seed', '7')).stdout).toBe(stdout);
    expect((await drop(graph, '--heightMm', '300', '--orientations', '2', '--seed', '8')).stdout).not.toContain(
      String(rebound.byOrientation[1].down[0]),
    );
  });

  it('is stiffer, so shorter in contact, with joints as calibrated with solids than with none', async () => {
    const contact = async (joints: string) =>
      JSON.parse((await drop(graph, '--heightMm', '300', '--orientations', '1', '--joints', joints)).stdout).contactTimeMs;
    expect(await contact('calibrated')).toBeLessThan(await contact('none'));
  });

  it('fails with code 1 and keeps the numbers so far when the part does not come off well', async () => {
    const { code, stdout, stderr } = await drop(graph, '--heightMm', '20000', '--orientations', '1', '--modulusMPa', '5');
    expect(code).toBe(1);
    expect(stderr).toMatch(/^strutwright drop failed: .*\((collapsed|bottoms-out|no-rebound)\)$/m);
    const { reboundHeightMm, byOrientation } = reboundResult.parse(JSON.parse(stdout));
    expect(byOrientation).toHaveLength(1);
    expect(byOrientation[0].outcome).not.toBe('rebound');
    expect(reboundHeightMm).toBeNull();
  });

  it('fails by name when the lattice falls apart, with nothing on stdout', async () => {
    const apart = {
      unit: 'mm',
      nodes: [0, 1, 2, 3].map((k) => [10 * k, 0, k % 2]),
      struts: [
        [0, 1, 2],
        [2, 3, 2],
      ],
    };
    const { code, stdout, stderr } = await drop(await folder.write('apart.json', apart), '--heightMm', '100');
    expect({ code, stdout }).toEqual({ code: 1, stdout: '' });
    expect(stderr).toMatch(/in 2 separate parts.*\(disconnected\)/);
  });

  it.each([
    [['--heightMm', '0'], '--heightMm is 0; allowed: at least 1, at most 20000'],
    [[], '--heightMm is missing; required'],
    [['--heightMm', '100', '--orientations', '0'], '--orientations is 0; allowed: at least 1, at most 200'],
    [['--heightMm', '100', '--joints', 'welded'], '--joints is "welded"; allowed: calibrated, none'],
    [['--heightMm', '100', '--poisson', '0.5'], '--poisson is 0.5; allowed: at least 0, at most 0.499'],
  ])('refuses %j with what is allowed', async (more, said) => {
    const { code, stdout, stderr } = await drop(graph, ...more);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toContain(said);
  });
});

it('an evaluation that fails on its way writes what it found, prints the table and says why', async () => {
  const layers = exampleParameterSet.layers.map((layer) => ({ ...layer, strutDiameterMm: 1.5 }));
  const links = { pattern: 'posts', strutDiameterMm: 1.5 };
  const tests = {
    depth: 'full',
    drop: { heightMm: 5000, orientations: 1 },
    compression: { toPctOfDiameter: 2, secantAtPct: 1 },
    frequencies: 1,
  };
  const input = { parameterSet: { ...exampleParameterSet, layers, links }, material: 'tpu-soft', buildVolume: 'medium-polymer', tests };
  const { code, stdout, stderr } = await command(['evaluate', await folder.write('weak.json', input), '--out', folder.path('weak')]);
  expect(code).toBe(1);
  expect(stdout).toMatch(/^Bounce, dropped from 5000 mm$/m);
  expect(stderr).toMatch(/strutwright evaluate failed: .*the result holds the numbers so far\. \((collapsed|bottoms-out|no-rebound)\)/);
  expect(stderr).toContain('result.json');
});
