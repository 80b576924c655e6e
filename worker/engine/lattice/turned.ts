import { turnGroup, turnPoints } from '../tiling/index.ts';
import type { GraphSymmetry, StrutGraph } from './graph.ts';

/** A graph and its symmetry as they stand when the whole is turned by a rotation (row-major). */
export function turned(
  graph: StrutGraph,
  symmetry: GraphSymmetry | null,
  rotation: number[],
): { graph: StrutGraph; symmetry: GraphSymmetry | null } {
  return {
    graph: { ...graph, xyz: turnPoints(graph.xyz, rotation) },
    symmetry: symmetry && { ...symmetry, rotations: turnGroup(symmetry.rotations, rotation) },
  };
}
