import { expect, it } from 'vitest';
import { enclosed, openEdges, surfaceMesh } from '../../../worker/engine/mesh/index.ts';
import { findTouching, integrateUnion, unionSurface } from '../../../worker/engine/solid/index.ts';
import { booleanMesh } from '../../../worker/files/boolean-mesh.ts';
import { latticeOf } from '../../engine/lattice/samples.ts';

const layer = (depthMm: number, strutDiameterMm: number) => ({ depthMm, strutDiameterMm });

it('closes by a Boolean what cannot be stitched, within the chord tolerance, with an owner for each triangle', async () => {
  const { graph, symmetry } = latticeOf({ m: 1, n: 0, outsideDiameterMm: 100, layers: [layer(0, 5), layer(11, 4)], posts: 4 });
  const chordMm = 0.1;
  const mesh = await booleanMesh(graph, chordMm);
  expect(openEdges(mesh.triangles, mesh.xyz.length / 3)).toEqual([]);
  const { volume, area } = enclosed(mesh);
  const exact = integrateUnion(graph, unionSurface(graph, [0, 0, 0], findTouching(graph)), symmetry).moments[0];
  // Facets lie two thirds of the chord outside and one inside: the mean is off by less than half of it.
  expect(Math.abs(volume - exact)).toBeLessThan(0.5 * chordMm * area);
  const stitched = surfaceMesh(graph, { chordMm });
  if ('beyond' in stitched) throw new Error('this one can be stitched');
  expect(new Set(mesh.owner)).toEqual(new Set(stitched.owner));
});

it('is stopped between two steps of the Boolean', async () => {
  const { graph } = latticeOf({ m: 1, n: 0, outsideDiameterMm: 100, layers: [layer(0, 5)] });
  const solids = graph.strutCount + graph.nodeCount;
  let looks = 0;
  const poll = () => {
    if (++looks === solids + 3) throw new Error('stopped');
  };
  await expect(booleanMesh(graph, 0.2, poll)).rejects.toThrow('stopped');
  expect(looks).toBe(solids + 3);
});
