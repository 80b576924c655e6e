import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { exampleRequest } from '../../openapi/examples.ts';
import { command, type Folder, openFolder } from './cli.ts';

let folder: Folder;
beforeAll(async () => {
  folder = await openFolder();
});
afterAll(() => folder.close());

interface Sliced {
  layers: { zMm: number; areaMm2: number; contourMm: number }[];
  volumeMm3: number;
}

async function sliced(path: string, layerMm: string): Promise<Sliced> {
  const { code, stdout, stderr } = await command(['slice', path, '--layerMm', layerMm]);
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  return JSON.parse(stdout);
}
const upright = {
  unit: 'mm',
  nodes: [
    [3, 4, -5],
    [3, 4, 5],
  ],
  struts: [[0, 1, 2]],
};

describe('strutwright slice', () => {
  it('gives one JSON object: an upright cylinder with half a sphere at each end', async () => {
    const answer = await sliced(await folder.write('upright.json', upright), '0.5');
    expect(Object.keys(answer).sort()).toEqual(['layers', 'volumeMm3']);
    // r = 1, L = 10: pi r^2 L + 4/3 pi r^3; nine digits, since the union is integrated
    expect(answer.volumeMm3 / (10 * Math.PI + (4 / 3) * Math.PI)).toBeCloseTo(1, 9);
    expect(answer.layers).toHaveLength(24);
    answer.layers.forEach(({ zMm, areaMm2, contourMm }, k) => {
      expect(Math.floor((zMm + 6) / 0.5)).toBe(k);
      // Below the balls' caps the section stays the same, and the layer's middle tells it.
      if (k > 2 && k < 21) expect(zMm).toBeCloseTo(-5.75 + 0.5 * k, 12);
      const radius = Math.sqrt(1 - Math.max(0, Math.abs(zMm) - 5) ** 2);
      expect(areaMm2).toBeCloseTo(Math.PI * radius ** 2, 8);
      expect(contourMm).toBeCloseTo(2 * Math.PI * radius, 8);
    });
  });

  it('counts once what two struts share that overlap without meeting', async () => {
    const nodes = [
      [-10, 0, 0],
      [10, 0, 0],
      [0, -10, 0.5],
      [0, 10, 0.7],
    ];
    const struts = [
      [0, 1, 3],
      [2, 3, 2],
    ];
    const { layers, volumeMm3 } = await sliced(await folder.write('cross.json', { unit: 'mm', nodes, struts }), '0.01');
    const byLayers = layers.reduce((sum, { areaMm2 }) => sum + 0.01 * areaMm2, 0);
    // struts apart hold pi r^2 L + 4/3 pi r^3 each; what they share is some 7 mm3 of 222
    const apart = [1.5, 1].reduce((sum, r) => sum + Math.PI * r * r * 20 + (4 / 3) * Math.PI * r ** 3, 0);
    expect(apart - volumeMm3).toBeGreaterThan(5);
    // level struts end in a square root, at which the midpoint rule goes with the power 1.5 of the layer
    expect(Math.abs(byLayers / volumeMm3 - 1)).toBeLessThan(1e-4);
  });

  it('adds up to the mass of the lattice that an evaluation writes', async () => {
    const out = folder.path('ball');
    const input = await folder.write('input.json', { ...exampleRequest, tests: { depth: 'geometry' } });
    expect((await command(['evaluate', input, '--out', out])).code).toBe(0);
    const { layers, volumeMm3 } = await sliced(`${out}/graph.json`, '0.1');
    const mass = JSON.parse((await command(['mass', `${out}/graph.json`, '--densityGCm3', '1'])).stdout);
    expect(volumeMm3 / mass.volumeMm3).toBeCloseTo(1, 12);
    // the midpoint rule on 1 600 layers of a ball of many leaning struts
    expect(Math.abs(layers.reduce((sum, { areaMm2 }) => sum + 0.1 * areaMm2, 0) / volumeMm3 - 1)).toBeLessThan(1e-4);
    expect(layers.every(({ areaMm2, contourMm }) => areaMm2 >= 0 && contourMm >= 0)).toBe(true);
  });

  it('refuses a bad layer and a bad graph', async () => {
    const path = await folder.write('good.json', upright);
    const tall = await folder.write('tall.json', { ...upright, nodes: [upright.nodes[0], [3, 4, 5e6]] });
    const loose = await folder.write('loose.json', { ...upright, struts: [[0, 7, 2]] });
    const bad: [string[], RegExp][] = [
      [[path], /--layerMm is missing/],
      [[path, '--layerMm', 'thin'], /--layerMm is "thin"; allowed: a number/],
      [[path, '--layerMm', '0'], /--layerMm is 0; allowed: at least 0\.001, at most 1000/],
      [[path, '--layerMm=-1'], /--layerMm is -1; allowed: at least 0\.001/],
      [[tall, '--layerMm', '0.1'], /--layerMm is 0\.1; allowed for this solid: at least 50\.00\d* \(100000 layers\)/],
      [[loose, '--layerMm', '1'], /loose\.json \/struts\/0 is \[0,7,2\]; allowed: /],
      [[folder.path('absent.json'), '--layerMm', '1'], /ENOENT/],
    ];
    for (const [args, said] of bad) {
      const { code, stdout, stderr } = await command(['slice', ...args]);
      expect({ args, code, stdout }).toEqual({ args, code: 2, stdout: '' });
      expect(stderr).toMatch(said);
    }
  });
});
