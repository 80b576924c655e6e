import { type StrutGraph, type SurfaceMesh, surfaceMesh } from '../engine/index.ts';
import { booleanMesh } from './boolean-mesh.ts';

/**
 * The closed surface of a lattice at a chord tolerance: stitched, or where that does not close (a few in a hundred, with struts that meet at small
 * angles, taper and cross) by a Boolean of meshes, which takes some thirty times as long. Throws where neither closes, and what `poll` throws.
 */
export async function closedSurface(graph: StrutGraph, chordMm: number, poll?: () => void): Promise<SurfaceMesh> {
  const mesh = surfaceMesh(graph, { chordMm, poll });
  return 'beyond' in mesh ? booleanMesh(graph, chordMm, poll) : mesh;
}
