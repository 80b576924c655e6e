import { copyFile, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { result as resultSchema } from '../../openapi/result.ts';
import { command, execute, run, SHIM } from './cli.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'strutwright-cli-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function inputFile(name: string, change: object = {}): Promise<string> {
  const parameterSet = {
    carrier: { shape: 'sphere', outsideDiameterMm: 162.3 },
    tiling: { kind: 'goldberg', m: 3, n: 3, relaxation: 'equal-edges' },
    layers: [
      { depthMm: 0, strutDiameterMm: 4.2 },
      { depthMm: 14, strutDiameterMm: 3.6 },
    ],
    links: { pattern: 'posts', strutDiameterMm: 3.6 },
    ...change,
  };
  const path = join(folder, name);
  const input = { parameterSet, material: 'tpu-soft', buildVolume: 'medium-polymer', reference: 'handball-size-1' };
  await writeFile(path, JSON.stringify(input));
  return path;
}

describe('strutwright', () => {
  it('tells its commands', async () => {
    const { code, stdout, stderr } = await run(['help']);
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toMatch(/strutwright evaluate input\.json --out folder/);
    expect(stdout).toMatch(/strutwright mass graph\.json --densityGCm3 1\.1/);
    expect(stdout).toMatch(/strutwright slice graph\.json --layerMm 0\.1/);
    expect((await run(['--help'])).stdout).toBe(stdout);
  });

  it('is found by npx in the repository', async () => {
    const { code, stdout } = await execute('npx', ['--no', 'strutwright', 'help']);
    expect({ code, stdout }).toEqual({ code: 0, stdout: (await run(['help'])).stdout });
  });

  it('says what is missing when it is not built', async () => {
    const bare = join(folder, 'bare', 'worker');
    await mkdir(bare, { recursive: true });
    await copyFile(SHIM, join(bare, 'strutwright.mjs'));
    const { code, stdout, stderr } = await run(['help'], join(bare, 'strutwright.mjs'));
    expect({ code, stdout }).toEqual({ code: 1, stdout: '' });
    expect(stderr).toContain('npm run build');
  });

  it('refuses a command it does not have', async () => {
    const { code, stdout, stderr } = await run(['polish', 'x.json']);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toContain('"polish" is not a command; allowed: evaluate, mass, slice');
  });
});

describe('strutwright evaluate', () => {
  it('writes result and graph, and prints the table and nothing else', async () => {
    const out = join(folder, 'ball');
    const { code, stdout, stderr } = await run(['evaluate', await inputFile('ball.json'), '--out', out]);
    expect(code).toBe(0);
    expect((await readdir(out)).sort()).toEqual(['graph.json', 'result.json']);
    const result = resultSchema.parse(JSON.parse(await readFile(join(out, 'result.json'), 'utf8')));
    const graph = JSON.parse(await readFile(join(out, 'graph.json'), 'utf8'));
    expect(graph.nodes).toHaveLength(result.geometry.nodeCount);
    expect(graph.struts).toHaveLength(result.geometry.strutCount);

    expect(stdout).toMatch(new RegExp(`^  mass +${result.massProperties.massG.toFixed(3).replace('.', '\\.')}  g$`, 'm'));
    for (const check of result.printability.checks) expect(stdout).toMatch(new RegExp(`^  ${check.status} +${check.id} `, 'm'));
    const mass = result.targets.find((each) => each.quantity === 'massG');
    expect(stdout).toMatch(new RegExp(`^  massG .*${mass?.within ? 'met' : `missed by ${mass?.missPct?.toFixed(2)} %`}$`, 'm'));
    expect(stderr).toContain('wrote');
  });

  it('is done, with exit code 0, when the lattice cannot be printed', async () => {
    const thin = await inputFile('thin.json', { layers: [{ depthMm: 0, strutDiameterMm: 0.3 }], links: { pattern: 'none' } });
    const { code, stdout } = await command(['evaluate', thin, '--out', join(folder, 'thin')]);
    expect(code).toBe(0);
    expect(stdout).toContain('Printability: fail');
  });

  it('refuses bad input with field, value and what is allowed, and writes nothing', async () => {
    const bad = await inputFile('bad.json', { layers: [{ depthMm: 0, strutDiameterMm: -1 }], links: { pattern: 'none' } });
    const out = join(folder, 'bad');
    const { code, stdout, stderr } = await command(['evaluate', bad, '--out', out]);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(/\/parameterSet\/layers\/0\/strutDiameterMm is -1; allowed: at least 0\.05, at most 100/);
    await expect(readdir(out)).rejects.toThrow('ENOENT');
  });

  it('refuses unknown records, files it cannot make, options it does not have and files that are not there', async () => {
    const input = await inputFile('plain.json');
    const text = (await readFile(input, 'utf8')).replace('tpu-soft', 'cheese');
    await writeFile(join(folder, 'cheese.json'), text);
    await writeFile(join(folder, 'broken.json'), '{"parameterSet": NaN}');
    const out = ['--out', join(folder, 'never')];
    const refusals: [string[], string][] = [
      [[join(folder, 'cheese.json'), ...out], '/material is "cheese"'],
      [[join(folder, 'broken.json'), ...out], 'is not JSON'],
      [[join(folder, 'absent.json'), ...out], 'ENOENT'],
      [[input, ...out, '--files', 'dwg'], '--files is "dwg"'],
      [[input, ...out, '--polish'], "Unknown option '--polish'"],
      [[input], '--out is missing'],
      [out, 'needed: input.json'],
    ];
    for (const [args, said] of refusals) {
      const { code, stdout, stderr } = await command(['evaluate', ...args]);
      expect({ args, code, stdout }).toEqual({ args, code: 2, stdout: '' });
      expect(stderr).toContain(said);
    }
  });
});

describe('strutwright mass', () => {
  it('gives one JSON object: a cylinder with half a sphere at each end', async () => {
    const path = join(folder, 'one-strut.json');
    const graph = {
      unit: 'mm',
      nodes: [
        [0, 0, -5],
        [0, 0, 5],
      ],
      struts: [[0, 1, 2]],
    };
    await writeFile(path, JSON.stringify(graph));
    const { code, stdout, stderr } = await command(['mass', path, '--densityGCm3', '1.1']);
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    const answer = JSON.parse(stdout);
    expect(Object.keys(answer).sort()).toEqual(['centreOfMassMm', 'inertiaGMm2', 'massG', 'sumOfCylindersMm3', 'volumeMm3']);
    // r = 1, L = 10: pi r^2 L + 4/3 pi r^3; nine digits, since the union is integrated, not summed.
    expect(answer.volumeMm3 / (10 * Math.PI + (4 / 3) * Math.PI)).toBeCloseTo(1, 9);
    expect(answer.sumOfCylindersMm3 / (10 * Math.PI)).toBeCloseTo(1, 12);
    expect(answer.massG / (answer.volumeMm3 * 1.1e-3)).toBeCloseTo(1, 12);
  });

  it('agrees with the evaluation that wrote the graph', async () => {
    const out = join(folder, 'same');
    await command(['evaluate', await inputFile('same.json'), '--out', out]);
    const result = resultSchema.parse(JSON.parse(await readFile(join(out, 'result.json'), 'utf8')));
    const { stdout } = await command(['mass', join(out, 'graph.json'), '--densityGCm3', '1.10']);
    // The evaluation may use the symmetry that a bare graph does not tell of: two routes, so the quadrature's 1e-9 and not the last digit.
    expect(JSON.parse(stdout).massG / result.massProperties.massG).toBeCloseTo(1, 8);
  });

  it('refuses a bad density and a bad graph', async () => {
    const path = join(folder, 'bad-graph.json');
    const nodes = [
      [0, 0, 0],
      [0, 0, 9],
    ];
    await writeFile(path, JSON.stringify({ unit: 'mm', nodes, struts: [[0, 7, 2]] }));
    const bad: [string[], RegExp][] = [
      [[path, '--densityGCm3', 'heavy'], /--densityGCm3 is "heavy"; allowed: a number, at least 0\.001, at most 25/],
      [[path, '--densityGCm3', '0'], /--densityGCm3 is 0; allowed: at least 0\.001, at most 25/],
      [[path], /--densityGCm3 is missing/],
      [[path, '--densityGCm3', '1'], /bad-graph\.json \/struts\/0 is \[0,7,2\]; allowed: /],
    ];
    for (const [args, said] of bad) {
      const { code, stdout, stderr } = await command(['mass', ...args]);
      expect({ args, code, stdout }).toEqual({ args, code: 2, stdout: '' });
      expect(stderr).toMatch(said);
    }
  });
});
