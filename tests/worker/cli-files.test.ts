import { readdir, readFile } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { exampleRequest } from '../../openapi/examples.ts';
import { checkThreeMf } from '../engine/export/three-mf-rules.ts';
import { command, type Folder, openFolder } from './cli.ts';

let folder: Folder;
let input: string;
beforeAll(async () => {
  folder = await openFolder();
  input = await folder.write('input.json', { ...exampleRequest, tests: { depth: 'geometry' } });
});
afterAll(() => folder.close());

describe('strutwright evaluate --files', () => {
  it('3mf writes the lattice beside result and graph, the same every time', async () => {
    const [first, second] = [folder.path('first'), folder.path('second')];
    for (const out of [first, second]) {
      const { code, stderr } = await command(['evaluate', input, '--out', out, '--files', '3mf,3mf']);
      expect(code).toBe(0);
      expect(stderr).toContain('lattice.3mf');
    }
    expect((await readdir(first)).sort()).toEqual(['graph.json', 'lattice.3mf', 'result.json']);
    const file = await readFile(`${first}/lattice.3mf`);
    expect(await readFile(`${second}/lattice.3mf`)).toEqual(file);

    const { broken, notes, lattices, metadata } = checkThreeMf(file);
    expect({ broken, notes }).toEqual({ broken: [], notes: [] });
    const graph = JSON.parse(await readFile(`${first}/graph.json`, 'utf8'));
    expect(lattices.map(({ vertices, beams }) => [vertices.length, beams.length])).toEqual([[graph.nodes.length, graph.struts.length]]);
    const { engine } = JSON.parse(await readFile(`${first}/result.json`, 'utf8'));
    expect(metadata.get('Application')).toBe(`strutwright ${engine.version}`);
  });

  it('refuses a kind it cannot make, names those it can, and writes nothing', async () => {
    const out = folder.path('never');
    const { code, stdout, stderr } = await command(['evaluate', input, '--out', out, '--files', '3mf,dwg']);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toContain('--files is "dwg", which is not a kind of file; allowed: 3mf');
    await expect(readdir(out)).rejects.toThrow('ENOENT');
  });
});
