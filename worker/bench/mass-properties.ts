import type { GraphSymmetry, StrutGraph } from '../engine/lattice/index.ts';
import { integrateUnion, massProperties, unionSurface } from '../engine/solid/index.ts';
import { timed } from './clock.ts';
import { disturbed, doubleShell, latticeOf } from './lattices.ts';
import { loadMeshUnion, type MeshUnion } from './mesh-boolean.ts';
import { checksumOf, type Row, shownMs } from './row.ts';

const SEGMENTS = 24;
const DENSITY_G_MM3 = 1.1e-3;

/** Volume, centre and inertia of the union beside a mesh Boolean of the same solid: with the symmetry of the lattice, and without any. */
export async function massPropertyRows(): Promise<Row[]> {
  const peer = await loadMeshUnion();
  const { graph, symmetry } = latticeOf(doubleShell(3, 3, [3, 2.5, 2.5]));
  const shell = 'GP(3,3), two layers at 90 and 75 mm, struts 3, 2.5 and posts 2.5 mm: 2 160 struts, 1 080 nodes';
  return [
    await rowOf('mass properties, by symmetry', shell, graph, { symmetry, peer, times: 300 }),
    await rowOf('mass properties, no two struts alike', `${shell}, every node moved by 0.1 mm (seed 1)`, disturbed(graph, 0.1, 1), {
      symmetry: null,
      peer,
      times: 50,
    }),
  ];
}

interface Against {
  readonly symmetry: GraphSymmetry | null;
  readonly peer: MeshUnion | null;
  /** How many times faster than the peer is asked for. */
  readonly times: number;
}

async function rowOf(name: string, input: string, graph: StrutGraph, { symmetry, peer, times }: Against): Promise<Row> {
  const found = await timed(() => propertiesOf(graph, symmetry), { warmUps: 20, runs: 30 });
  const { volume, principal } = found.last;
  const { minMs, medianMs, maxMs } = found;
  const row = { minMs, medianMs, maxMs, name, input, checksum: checksumOf([volume, ...principal]) };
  if (!peer) return { ...row, beside: 'manifold-3d is not installed: no peer beside it' };
  const boolean = await timed(() => peer(graph, SEGMENTS), { warmUps: 0, runs: 2 });
  const ratio = boolean.cpuMs / found.cpuMs;
  const lacks = (100 * (1 - boolean.last / volume)).toFixed(2);
  return {
    ...row,
    beside: `processor time ${shownMs(found.cpuMs)}; of a manifold-3d Boolean, ${SEGMENTS} segments, volume only, ${shownMs(boolean.cpuMs)} (${shownMs(boolean.minMs)} to ${shownMs(boolean.maxMs)} by the clock): ${ratio.toFixed(0)} times as much, and it lacks ${lacks} % of the volume`,
    asked: `at least ${times} times faster`,
    met: ratio >= times,
  };
}

/** All that an evaluation needs to go from a graph to its mass properties. */
const propertiesOf = (graph: StrutGraph, symmetry: GraphSymmetry | null) =>
  massProperties(integrateUnion(graph, unionSurface(graph), symmetry).moments, [0, 0, 0], DENSITY_G_MM3);
