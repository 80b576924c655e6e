import { describe, expect, it } from 'vitest';
import type { StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { type SurfaceMesh, surfaceMesh } from '../../../worker/engine/mesh/index.ts';
import { latticeOf } from '../lattice/samples.ts';
import { expectGoodMesh } from './good-mesh.ts';
import { MESH_SAMPLES } from './samples.ts';

const CHORD = 0.1;

const meshOf = (graph: StrutGraph, chordMm = CHORD): SurfaceMesh => {
  const mesh = surfaceMesh(graph, { chordMm });
  if ('beyond' in mesh) throw new Error(`not closed at ${mesh.beyond.length} nodes`);
  return mesh;
};

/** Signed distance of a place from the union: to the nearest frustum's side, within its ends, or sphere; good near the surface. */
function distanceTo(graph: StrutGraph, p: readonly number[]): number {
  const { xyz, ends, diameters, nodeRadius } = graph;
  let least = Number.POSITIVE_INFINITY;
  for (let v = 0; v < graph.nodeCount; v++) {
    least = Math.min(least, Math.hypot(p[0] - xyz[3 * v], p[1] - xyz[3 * v + 1], p[2] - xyz[3 * v + 2]) - nodeRadius[v]);
  }
  for (let s = 0; s < graph.strutCount; s++) {
    const [a, b] = [3 * ends[2 * s], 3 * ends[2 * s + 1]];
    const d = [0, 1, 2].map((k) => xyz[b + k] - xyz[a + k]);
    const length = Math.hypot(d[0], d[1], d[2]);
    const x = [0, 1, 2].map((k) => p[k] - xyz[a + k]);
    const along = (x[0] * d[0] + x[1] * d[1] + x[2] * d[2]) / length;
    const across = Math.sqrt(Math.max(0, x[0] * x[0] + x[1] * x[1] + x[2] * x[2] - along * along));
    const slope = (diameters[2 * s + 1] - diameters[2 * s]) / 2 / length;
    if (along < 0 || along > length) continue;
    least = Math.min(least, (across - diameters[2 * s] / 2 - slope * along) / Math.hypot(1, slope));
  }
  return least;
}

describe('the surface mesh', () => {
  it.each(MESH_SAMPLES)('$name: closed, manifold for another kernel too, of the exact volume and the right number of handles', (sample) =>
    expectGoodMesh(sample, CHORD),
  );
});

describe('a mesh that somebody stops', () => {
  const { graph } = latticeOf({ m: 1, n: 0, outsideDiameterMm: 60, layers: [{ depthMm: 0, strutDiameterMm: 4 }] });
  /** Makes the mesh until it was looked at so often; the looks there were. */
  const looksUntil = (most: number): number => {
    let looks = 0;
    const poll = () => {
      if (++looks === most) throw new Error('stopped');
    };
    const make = () => surfaceMesh(graph, { chordMm: CHORD, poll });
    if (Number.isFinite(most)) expect(make).toThrow('stopped');
    else make();
    return looks;
  };

  it('ends at once, wherever it is', () => {
    const all = looksUntil(Number.POSITIVE_INFINITY);
    // once for every strut, corner, curve and node, for each of the two meshes
    expect(all).toBeGreaterThan(2 * (2 * graph.strutCount + graph.nodeCount));
    for (const most of [1, Math.floor(all / 3), Math.floor(all / 2), all]) expect(looksUntil(most)).toBe(most);
  });
});

describe('where the mesh lies', () => {
  const { graph } = latticeOf({
    m: 1,
    n: 1,
    outsideDiameterMm: 100,
    layers: [
      { depthMm: 0, strutDiameterMm: 5 },
      { depthMm: 12, strutDiameterMm: 4 },
    ],
    posts: 3,
  });

  it.each([0.02, 0.1, 0.4])('keeps within a chord tolerance of %d mm of the exact surface, its triangles facing out', (chordMm) => {
    const { xyz, triangles, owner } = meshOf(graph, chordMm);
    const at = (v: number) => [xyz[3 * v], xyz[3 * v + 1], xyz[3 * v + 2]];
    let [inside, outside] = [0, 0];
    for (let t = 0; t < owner.length; t += 7) {
      const [a, b, c] = [0, 1, 2].map((k) => at(triangles[3 * t + k]));
      for (const [u, v] of [
        [1 / 3, 1 / 3],
        [0.5, 0.5],
        [0.5, 0],
        [0, 0],
        [0.1, 0.8],
      ]) {
        const off = distanceTo(
          graph,
          a.map((x, k) => x + u * (b[k] - x) + v * (c[k] - x)),
        );
        inside = Math.min(inside, off);
        outside = Math.max(outside, off);
      }
    }
    // In a crease the edge is a chord of a curve on both sides of which the surface falls away; both are within the tolerance there.
    expect(outside).toBeLessThan(chordMm);
    expect(-inside).toBeLessThan(chordMm);
    expect(outside - inside).toBeGreaterThan(0.3 * chordMm);
  });

  it('faces away from the axis of the strut and the centre of the sphere that each triangle lies on', () => {
    const { xyz, triangles, owner } = meshOf(graph);
    let facingIn = 0;
    owner.forEach((body, t) => {
      const [a, b, c] = [0, 1, 2].map((k) => Array.from(xyz.subarray(3 * triangles[3 * t + k], 3 * triangles[3 * t + k] + 3)));
      const [p, q] = [b, c].map((each) => each.map((x, k) => x - a[k]));
      const normal = [p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]];
      const node = body < 0 ? -1 - body : graph.ends[2 * body];
      const from = a.map((x, k) => (x + b[k] + c[k]) / 3 - graph.xyz[3 * node + k]);
      if (body >= 0) {
        const axis = [0, 1, 2].map((k) => graph.xyz[3 * graph.ends[2 * body + 1] + k] - graph.xyz[3 * node + k]);
        const along = from.reduce((sum, x, k) => sum + x * axis[k], 0) / axis.reduce((sum, x) => sum + x * x, 0);
        axis.forEach((x, k) => (from[k] -= along * x));
      }
      if (normal.reduce((sum, x, k) => sum + x * from[k], 0) <= 0) facingIn++;
    });
    expect(facingIn).toBe(0);
  });

  it('needs more triangles as the tolerance falls, with its square root', () => {
    const counts = [0.2, 0.05, 0.0125].map((chordMm) => meshOf(graph, chordMm).owner.length);
    // Along struts the number grows as 1 / sqrt(chord), on spheres as 1 / chord.
    for (const k of [0, 1]) expect(counts[k + 1] / counts[k]).toBeGreaterThan(1.6);
    for (const k of [0, 1]) expect(counts[k + 1] / counts[k]).toBeLessThan(4);
  });
});
