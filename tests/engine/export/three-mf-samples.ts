import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import type { StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { graphOf } from '../print/samples.ts';
import type { LatticeRead } from './three-mf-lattice.ts';

export const MODEL = '3D/3dmodel.model';

/** The text of every part of a package. */
export const partsOf = (bytes: Uint8Array): Record<string, string> =>
  Object.fromEntries(Object.entries(unzipSync(bytes)).map(([name, content]) => [name, strFromU8(content)]));

/** The package with its parts changed in place. */
export function repacked(bytes: Uint8Array, change: (parts: Record<string, string>) => void): Uint8Array {
  const parts = partsOf(bytes);
  change(parts);
  return zipSync(Object.fromEntries(Object.entries(parts).map(([name, text]) => [name, strToU8(text)])));
}

/** The graph that a lattice read from a file stands for. */
export function graphOfRead({ vertices, beams, balls }: LatticeRead): StrutGraph {
  const graph = graphOf(
    vertices,
    beams.map(({ v1, v2, r1, r2 }) => [v1, v2, 2 * r1, 2 * r2]),
  );
  for (const { vertex, r } of balls) graph.nodeRadius[vertex] = Math.max(graph.nodeRadius[vertex], r);
  return graph;
}

/** The graph with larger spheres at some nodes. */
export const withSpheres = (graph: StrutGraph, radiusAt: (node: number, needed: number) => number): StrutGraph => ({
  ...graph,
  nodeRadius: graph.nodeRadius.map((needed, node) => radiusAt(node, needed)),
});
