import { buildLattice, type Lattice, type ParameterSet } from './lattice/index.ts';
import type { EngineError } from './mechanics.ts';
import { equalAreas, equalEdges, goldberg, orient, type Tiling } from './tiling/index.ts';

const RELAXATIONS = { none: (tiling: Tiling) => tiling, 'equal-edges': equalEdges, 'equal-areas': equalAreas };

/** The tiling of a parameter set, as constructed and as it is turned. `poll` is called now and then, and may throw. */
export function tilingOf(
  { tiling: { m, n, relaxation, orientation } }: ParameterSet,
  poll: () => void = () => {},
): { constructed: Tiling; tiling: Tiling } {
  const plain = goldberg(m, n);
  poll();
  const constructed = RELAXATIONS[relaxation](plain, poll);
  poll();
  return { constructed, tiling: orient(constructed, orientation) };
}

/** The lattice of a parameter set on its tiling. */
export function latticeOf(
  parameterSet: ParameterSet,
  tiling: Tiling,
): { kind: 'lattice'; lattice: Lattice } | { kind: 'fault'; fault: EngineError } {
  const lattice = buildLattice(parameterSet, tiling);
  if (!('refused' in lattice)) return { kind: 'lattice', lattice };
  const message = `/parameterSet/${lattice.path.join('/')} is ${lattice.value}; ${lattice.message}`;
  return { kind: 'fault', fault: { code: 'refused-parameters', message } };
}
