import { even } from './relax.ts';
import type { Tiling } from './tiling.ts';

/** Moves the nodes on the unit sphere until all edges are equally long, as far as the symmetry allows (see `even`). Edges are chords. */
export function equalEdges(tiling: Tiling, poll?: () => void): Tiling {
  const { edges, symmetry } = tiling;
  const ends = (e: number): [number, number] => [3 * edges[2 * e], 3 * edges[2 * e + 1]];
  const length = (e: number, xyz: Float64Array): number => {
    const [a, b] = ends(e);
    return Math.hypot(xyz[b] - xyz[a], xyz[b + 1] - xyz[a + 1], xyz[b + 2] - xyz[a + 2]);
  };
  const { points, residual } = even({
    poll,
    points: tiling.xyz,
    pointOrbit: symmetry.nodeOrbit,
    pointRotation: symmetry.nodeRotation,
    rotations: symmetry.rotations,
    quantityOrbit: symmetry.edgeOrbit,
    value: length,
    gradient: (e, xyz, add) => {
      const [a, b] = ends(e);
      const along = [0, 1, 2].map((k) => (xyz[b + k] - xyz[a + k]) / length(e, xyz));
      add(a / 3, -along[0], -along[1], -along[2]);
      add(b / 3, along[0], along[1], along[2]);
    },
  });
  return { ...tiling, xyz: points, relaxationResidual: residual };
}
