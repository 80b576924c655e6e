import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { graphJson } from '../../worker/engine/index.ts';
import { latticeOf } from '../engine/lattice/samples.ts';
import { command, type Folder, openFolder } from './cli.ts';

let folder: Folder;
let ball: string;
beforeAll(async () => {
  folder = await openFolder();
  const layers = [
    { depthMm: 0, strutDiameterMm: 3 },
    { depthMm: 15, strutDiameterMm: 2.5 },
  ];
  const { graph } = latticeOf({ m: 2, n: 0, orientation: 'pentagon-up', outsideDiameterMm: 183, layers, posts: 2.5 });
  ball = await folder.write('ball.json', graphJson(graph));
});
afterAll(() => folder.close());

const TPU = ['--modulusMPa', '60', '--poisson', '0.45', '--densityGCm3', '1.1', '--joints', 'none'];
async function answered(args: string[]) {
  const { code, stdout, stderr } = await command(['frame', ...args]);
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  return JSON.parse(stdout);
}

describe('strutwright frame', () => {
  it('gives stiffness between five nodes and five, and the frequencies of a free ball, by the contract', async () => {
    const found = await answered([ball, ...TPU, '--hold', '5', '--load', '5', '--modes', '6', '--mass', 'cylinders']);
    // computed with SciPy on an independently written frame (sparse LU, shift-invert): to the digits that were kept
    expect(found.stiffnessNPerMm / 0.200965).toBeCloseTo(1, 5);
    expect(found.frequenciesHz).toHaveLength(6);
    for (let k = 0; k < 5; k++) expect(found.frequenciesHz[k] / 36.1821).toBeCloseTo(1, 5);
    expect(found.frequenciesHz[5] / 45.6692).toBeCloseTo(1, 5);
  });

  it('rings higher by the root of how much the cylinders outweigh their union', async () => {
    const modes = ['--hold', '5', '--load', '5', '--modes', '1'];
    const [cylinders] = (await answered([ball, ...TPU, ...modes])).frequenciesHz;
    const [union] = (await answered([ball, ...TPU, ...modes, '--mass', 'union'])).frequenciesHz;
    const mass = JSON.parse((await command(['mass', ball, '--densityGCm3', '1.1'])).stdout);
    expect(union / cylinders).toBeCloseTo(Math.sqrt(mass.sumOfCylindersMm3 / mass.volumeMm3), 6);
  });

  it('gives the compliance of a free bar under pull and twist as the textbook does', async () => {
    const bar = {
      unit: 'mm',
      nodes: [
        [0, 0, 0],
        [20, 10, 20],
      ],
      struts: [[0, 1, 3]],
    };
    const pull = (node: number, sign: number) => ({ node, forceN: [2, 1, 2].map((each) => (sign * each) / 3) });
    const loads = await folder.write('pull.json', { forces: [pull(0, -1), pull(1, 1)] });
    const { complianceMmPerN, frequenciesHz } = await answered([await folder.write('bar.json', bar), ...TPU, '--loads', loads]);
    // L / (E A)
    expect(complianceMmPerN).toBeCloseTo(30 / (60 * Math.PI * 1.5 ** 2), 9);
    expect(frequenciesHz).toBeUndefined();
    const twist = (node: number, sign: number) => ({ node, momentNMm: [2, 1, 2].map((each) => (sign * each) / 3) });
    const twisted = await folder.write('twist.json', { forces: [twist(0, -1), twist(1, 1)] });
    const { complianceMmPerN: turning } = await answered([folder.path('bar.json'), ...TPU, '--loads', twisted]);
    // L / (G J), J = pi d^4 / 32
    expect(turning).toBeCloseTo(30 / ((60 / 2.9) * ((Math.PI * 81) / 32)), 9);
  });

  it.each([
    [['--load', '5'], '--hold is missing; required'],
    [['--hold', '5', '--load', '9999'], '--load is 9999; allowed: at least 1, at most 160'],
    [['--hold', '5', '--load', '5', '--mass', 'guessed'], '--mass is "guessed"; allowed: cylinders, union'],
  ])('refuses %j with what is allowed', async (more, said) => {
    const { code, stdout, stderr } = await command(['frame', ball, ...TPU, ...more]);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toContain(said);
  });

  it('refuses loads that do not balance, nodes that are not there and lattices that fall apart', async () => {
    const one = await folder.write('one.json', { forces: [{ node: 0, forceN: [1, 0, 0] }] });
    const unbalanced = await command(['frame', ball, ...TPU, '--loads', one]);
    expect(unbalanced).toMatchObject({
      code: 2,
      stdout: '',
      stderr: expect.stringMatching(/do not balance: 1\.00,0\.00,0\.00 N .* are left/),
    });
    const beyond = await folder.write('beyond.json', { forces: [{ node: 160, forceN: [1, 0, 0] }] });
    const unknown = await command(['frame', ball, ...TPU, '--loads', beyond]);
    expect(unknown).toMatchObject({ code: 2, stderr: expect.stringContaining('/forces/0/node is 160; allowed: 0 to 159') });
    const nodes = [0, 1, 2, 3].map((k) => [10 * k, 0, k]);
    const apart = await folder.write('apart.json', {
      unit: 'mm',
      nodes,
      struts: [
        [0, 1, 2],
        [2, 3, 2],
      ],
    });
    const fallen = await command(['frame', apart, ...TPU, '--hold', '1', '--load', '1', '--modes', '0']);
    expect(fallen).toMatchObject({ code: 1, stdout: '', stderr: expect.stringContaining('(not-positive-definite)') });
  });
});
