import { describe, expect, it } from 'vitest';
import { openEdges } from '../../../worker/engine/mesh/index.ts';
import { closedSurface } from '../../../worker/files/surface.ts';
import { randomLattices } from '../../reference/random-lattices.ts';
import { expectGoodMesh } from './good-mesh.ts';
import { MESH_SAMPLES, SLOW_MESH_SAMPLES } from './samples.ts';

describe('surface meshes of slower lattices and at every tolerance', () => {
  // Where no second mesh closes the first stays, whose share of the chord is up to 0.1 from the right one.
  it.each(SLOW_MESH_SAMPLES)('$name', (sample) => expectGoodMesh(sample, 0.05, 0.1));

  // A few close only with their vertices on the surface itself: facets then lie inside it by two thirds of the chord on the average, at most.
  it.each([0.01, 0.03, 0.3, 1])('of every sample at %d mm chord', async (chordMm) => {
    for (const sample of MESH_SAMPLES) await expectGoodMesh(sample, chordMm, 0.67);
  });

  it('of lattices drawn from the schema: closed whatever is drawn, by a Boolean where they cannot be stitched', async () => {
    for (const { graph } of randomLattices(77, 40)) {
      const mesh = await closedSurface(graph, 0.05);
      expect(openEdges(mesh.triangles, mesh.xyz.length / 3)).toEqual([]);
    }
  });
});
