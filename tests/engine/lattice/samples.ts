import type { ParameterSet } from '../../../worker/engine/lattice/index.ts';
import { buildLattice, type Lattice } from '../../../worker/engine/lattice/index.ts';
import { equalEdges, goldberg, orient, type Tiling } from '../../../worker/engine/tiling/index.ts';

export type Layer = ParameterSet['layers'][number];

export interface Ball {
  readonly m: number;
  readonly n: number;
  readonly outsideDiameterMm: number;
  readonly layers: readonly Layer[];
  /** Diameter of the posts; left out with one layer. */
  readonly posts?: number;
  /** Links of any other kind, in place of plain posts. */
  readonly links?: ParameterSet['links'];
  readonly relaxation?: ParameterSet['tiling']['relaxation'];
  readonly orientation?: ParameterSet['tiling']['orientation'];
}

export function parametersOf({
  m,
  n,
  outsideDiameterMm,
  layers,
  posts,
  links = posts === undefined ? { pattern: 'none' } : { pattern: 'posts', strutDiameterMm: posts },
  relaxation = 'none',
  orientation = 'split-plane',
}: Ball): ParameterSet {
  return {
    carrier: { shape: 'sphere', outsideDiameterMm },
    tiling: { kind: 'goldberg', m, n, relaxation, orientation },
    layers,
    links,
  };
}

export function tilingOf({ tiling: { m, n, relaxation, orientation } }: ParameterSet): Tiling {
  const plain = goldberg(m, n);
  return orient(relaxation === 'equal-edges' ? equalEdges(plain) : plain, orientation);
}

/** The lattice of a ball that is known to be legal. */
export function latticeOf(ball: Ball): Lattice {
  const set = parametersOf(ball);
  const built = buildLattice(set, tilingOf(set));
  if ('refused' in built) throw new Error(`${built.path.join('/')}: ${built.message}`);
  return built;
}

/** A ball of two layers with posts whose centre lines lie at two radii, mm. */
export function doubleShell(
  m: number,
  n: number,
  [outer, inner]: readonly [number, number],
  [d0, d1, posts]: readonly [number, number, number],
) {
  return latticeOf({
    m,
    n,
    outsideDiameterMm: 2 * outer + Math.max(d0, posts),
    layers: [
      { depthMm: 0, strutDiameterMm: d0 },
      { depthMm: outer - inner, strutDiameterMm: d1 },
    ],
    posts,
  });
}
