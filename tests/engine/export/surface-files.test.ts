import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { validateBytes } from 'gltf-validator';
import { GLTFLoader } from 'three/examples/jsm/loaders/GLTFLoader.js';
import { STLLoader } from 'three/examples/jsm/loaders/STLLoader.js';
import { afterAll, describe, expect, it } from 'vitest';
import { binaryStl, glb, meshThreeMf } from '../../../worker/engine/export/index.ts';
import { enclosed, surfaceMesh } from '../../../worker/engine/mesh/index.ts';
import { drawnTriangles } from '../../reference/3mf-reader.ts';
import { MESH_SAMPLES } from '../mesh/samples.ts';

const folder = mkdtempSync(join(tmpdir(), 'surface-'));
afterAll(() => rmSync(folder, { recursive: true }));

const CHORD = 0.25;
const meshes = MESH_SAMPLES.map(({ name, graph }) => {
  const mesh = surfaceMesh(graph, { chordMm: CHORD });
  if ('beyond' in mesh) throw new Error(`${name}: not closed`);
  return { name, graph, mesh };
});
const [, ball] = meshes;

/** Lines that admesh prints of a file, a number each: what it would have had to change. */
function admesh(bytes: Uint8Array, name: string): Record<string, number> {
  const file = join(folder, `${name}.stl`);
  writeFileSync(file, bytes);
  const { stdout } = spawnSync('admesh', [file], { encoding: 'utf8' });
  return Object.fromEntries(
    [...stdout.matchAll(/^\s*([A-Z][A-Za-z0-9 ]+?)\s*:\s*(-?[\d.]+)/gm)].map(([, key, value]) => [key, Number(value)]),
  );
}
const hasAdmesh = spawnSync('admesh', ['--version']).status === 0;

describe('the STL file', () => {
  it.each(meshes)('$name: another reader finds every triangle, and the same volume', ({ mesh }) => {
    const bytes = binaryStl(mesh, 'a lattice');
    expect(bytes.length).toBe(84 + 50 * mesh.owner.length);
    expect(Buffer.from(bytes.subarray(0, 5)).toString()).not.toBe('solid');
    // [three.js 0.187, STLLoader; status: read by it]
    const { position, normal } = new STLLoader().parse(bytes.buffer as ArrayBuffer).attributes;
    expect(position.count).toBe(mesh.triangles.length);
    const read = {
      xyz: Float64Array.from(position.array),
      triangles: Uint32Array.from(position.array, (_, k) => k).subarray(0, position.count),
    };
    const { volume, area } = enclosed(mesh);
    // Floats of 32 bits: half a step of 100 mm is 4e-6.
    expect(Math.abs(enclosed(read).volume - volume)).toBeLessThan(4e-6 * area);
    expect(Math.hypot(normal.array[0], normal.array[1], normal.array[2])).toBeCloseTo(1, 6);
  });

  it.skipIf(!hasAdmesh).each(meshes)(
    '$name: admesh finds nothing to mend [Debian admesh 0.98; skipped where it is not installed]',
    ({ name, mesh }) => {
      const found = admesh(binaryStl(mesh, 'a lattice'), name.replaceAll(/\W+/g, '-'));
      expect(found['Number of facets']).toBe(mesh.owner.length);
      const faults = [
        'Facets with 1 disconnected edge',
        'Facets with 2 disconnected edges',
        'Facets with 3 disconnected edges',
        'Total disconnected facets',
      ];
      const mended = ['Degenerate facets', 'Edges fixed', 'Facets removed', 'Facets added', 'Facets reversed', 'Backwards edges'];
      for (const key of [...faults, ...mended]) expect([key, found[key]]).toEqual([key, 0]);
    },
  );
});

describe('the GLB file', () => {
  it.each(meshes)('$name: no error or warning of the validator, in metres, +Y up', async ({ graph, mesh }) => {
    const bytes = glb(mesh, graph, 'strutwright');
    const { issues, info } = await validateBytes(bytes);
    // [Khronos glTF Validator 2.0.0-dev.3.10; status: checked by it]
    expect(issues).toMatchObject({ numErrors: 0, numWarnings: 0 });
    expect(info.totalTriangleCount).toBe(mesh.owner.length);
  });

  it('holds the same triangles for another reader, turned so that the build direction is up', async () => {
    const { mesh, graph } = ball;
    const read = await new GLTFLoader().parseAsync(glb(mesh, graph, 'strutwright').buffer as ArrayBuffer, '');
    let [triangles, highest] = [0, 0];
    read.scene.traverse(({ geometry }) => {
      if (!geometry) return;
      triangles += geometry.index!.count / 3;
      geometry.computeBoundingBox();
      highest = Math.max(highest, geometry.boundingBox!.max.y);
    });
    expect(triangles).toBe(mesh.owner.length);
    const top = mesh.xyz.reduce((most, z, k) => (k % 3 === 2 ? Math.max(most, z) : most), 0);
    expect(highest).toBeCloseTo(top / 1000, 7);
  });
});

describe('the 3MF file of triangles', () => {
  it('asks for no extension, and another reader finds the same solid', () => {
    const { mesh } = ball;
    const read = drawnTriangles(meshThreeMf(mesh, 'lattice', { Title: 'Strut lattice' }));
    expect(read.triangles.length).toBe(mesh.triangles.length);
    const { volume, area } = enclosed(mesh);
    expect(Math.abs(enclosed(read).volume - volume)).toBeLessThan(2e-5 * area);
    expect(read.xyz.reduce((least, x) => Math.min(least, x))).toBeCloseTo(0, 4);
  });
});
