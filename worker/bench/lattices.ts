import type { ParameterSetInput } from '../../openapi/parameter-set.ts';
import { buildLattice, type Lattice, type ParameterSet, type StrutGraph } from '../engine/lattice/index.ts';
import { goldberg } from '../engine/tiling/index.ts';

/** Two layers on GP(m,n) with posts, centre lines at 90 and 75 mm. */
export function doubleShell(m: number, n: number, [outer, inner, posts]: readonly [number, number, number]): ParameterSet {
  return {
    carrier: { shape: 'sphere', outsideDiameterMm: 180 + Math.max(outer, posts) },
    tiling: { kind: 'goldberg', m, n, relaxation: 'none', orientation: 'split-plane' },
    layers: [
      { depthMm: 0, strutDiameterMm: outer },
      { depthMm: 15, strutDiameterMm: inner },
    ],
    links: { pattern: 'posts', strutDiameterMm: posts },
  } satisfies ParameterSetInput;
}

export function latticeOf(set: ParameterSet): Lattice {
  const built = buildLattice(set, goldberg(set.tiling.m, set.tiling.n));
  if ('refused' in built) throw new Error(`the benchmark's lattice is refused: ${built.message}`);
  return built;
}

/** Every node moved by the same length in a seeded direction of its own (mulberry32): no two struts are alike any more. */
export function disturbed(graph: StrutGraph, lengthMm: number, seed: number): StrutGraph {
  let state = seed;
  const next = () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const xyz = Float64Array.from(graph.xyz);
  for (let v = 0; v < graph.nodeCount; v++) {
    const z = 2 * next() - 1;
    const angle = 2 * Math.PI * next();
    const r = Math.sqrt(1 - z * z);
    xyz[3 * v] += lengthMm * r * Math.cos(angle);
    xyz[3 * v + 1] += lengthMm * r * Math.sin(angle);
    xyz[3 * v + 2] += lengthMm * z;
  }
  return { ...graph, xyz };
}
