import manifold, { type ManifoldToplevel } from 'manifold-3d';
import { expect } from 'vitest';
import { enclosed, openEdges, surfaceMesh } from '../../../worker/engine/mesh/index.ts';
import { findTouching, integrateUnion, unionSurface } from '../../../worker/engine/solid/index.ts';
import type { MeshSample } from './samples.ts';

let loading: Promise<ManifoldToplevel> | undefined;
const load = () =>
  (loading ??= manifold().then((module) => {
    module.setup();
    return module;
  }));

/**
 * Expects a closed mesh that another kernel [manifold-3d 3.5; status: checked by it] takes as a manifold of the same volume, with the handles that the graph
 * has, and the volume of the exact union within `share` of the chord over the whole area: a shift of 2 % is not worth a second mesh.
 */
export async function expectGoodMesh({ graph, symmetry }: MeshSample, chordMm: number, share = 0.02): Promise<void> {
  const mesh = surfaceMesh(graph, { chordMm });
  if ('beyond' in mesh) throw new Error(`not closed at ${mesh.beyond.length} nodes`);
  expect(openEdges(mesh.triangles, mesh.xyz.length / 3)).toEqual([]);
  const { Manifold, Mesh } = await load();
  const solid = Manifold.ofMesh(new Mesh({ numProp: 3, vertProperties: Float32Array.from(mesh.xyz), triVerts: mesh.triangles }));
  expect(solid.status()).toBe('NoError');
  // It computes in its own way from floats of 32 bits: half a step of 100 mm is 4e-6, and sums of 1e5 triangles lose some more.
  const { volume, area } = enclosed(mesh);
  expect(Math.abs(solid.volume() - volume)).toBeLessThan(1e-4 * area);
  // A thickened graph has as many handles as the graph has independent cycles, E - V + 1 with the count of parts as manifold-3d has it.
  expect(solid.genus()).toBe(graph.strutCount - graph.nodeCount + 1);
  solid.delete();
  const exact = integrateUnion(graph, unionSurface(graph, [0, 0, 0], findTouching(graph)), symmetry).moments[0];
  expect(Math.abs(volume - exact)).toBeLessThan(share * chordMm * area);
}
