import { enclosed, openEdges, surfaceMesh } from '../engine/mesh/index.ts';
import { integrateUnion, unionSurface } from '../engine/solid/index.ts';
import { booleanMesh } from '../files/boolean-mesh.ts';
import { timed } from './clock.ts';
import { doubleShell, latticeOf } from './lattices.ts';
import { checksumOf, type Row, shownMs } from './row.ts';

const CHORD_MM = 0.05;
const ASKED_MS = 5_000;
const ASKED_MB = 512;

/** The closed surface of a ball's union at 0.05 mm chord, beside a mesh Boolean of the same solid at the same tolerance. */
export async function surfaceMeshRow(): Promise<Row> {
  const { graph, symmetry } = latticeOf(doubleShell(3, 3, [4.2, 3.6, 3.6]));
  const found = await timed(() => surfaceMesh(graph, { chordMm: CHORD_MM }), { warmUps: 0, runs: 3 });
  if ('beyond' in found.last) throw new Error('the mesh of the benchmark does not close');
  const megabytes = process.resourceUsage().maxRSS / 1024;
  const mesh = found.last;
  const exact = integrateUnion(graph, unionSurface(graph), symmetry).moments[0];
  const off = 100 * (enclosed(mesh).volume / exact - 1);
  const open = openEdges(mesh.triangles, mesh.xyz.length / 3).length;
  let [longest, before] = [0, performance.now()];
  const poll = () => {
    longest = Math.max(longest, performance.now() - before);
    before = performance.now();
  };
  surfaceMesh(graph, { chordMm: CHORD_MM, poll });
  const boolean = await timed(() => booleanMesh(graph, CHORD_MM), { warmUps: 0, runs: 1 });
  const { minMs, medianMs, maxMs, cpuMs } = found;
  return {
    ...{ minMs, medianMs, maxMs },
    name: 'surface mesh, 0.05 mm chord',
    input: 'GP(3,3), two layers at 90 and 75 mm, struts 4.2, 3.6 and posts 3.6 mm: 2 160 struts; the first run not warmed',
    checksum: checksumOf(mesh.xyz),
    beside: `processor time ${shownMs(cpuMs)}, ${mesh.owner.length} triangles, ${open} open edges, volume off by ${off.toFixed(4)} %, at most ${megabytes.toFixed(0)} MB in all, ${longest.toFixed(0)} ms at most between two looks at whether it is to stop; of a manifold-3d Boolean ${shownMs(boolean.cpuMs)}, ${boolean.last.owner.length} triangles`,
    asked: `under ${ASKED_MS / 1000} s of one core and ${ASKED_MB} MB`,
    met: cpuMs < ASKED_MS && megabytes < ASKED_MB,
  };
}
