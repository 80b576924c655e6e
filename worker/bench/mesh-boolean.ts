import type { Mat4 } from 'manifold-3d';
import type { StrutGraph } from '../engine/lattice/index.ts';

/** Volume of the union by a mesh Boolean of faceted cylinders and balls. */
export type MeshUnion = (graph: StrutGraph, segments: number) => number;

/** The peer; null where it is not installed (it is a development dependency). */
export async function loadMeshUnion(): Promise<MeshUnion | null> {
  const load = await import('manifold-3d').then(
    (module) => module.default,
    () => null,
  );
  if (!load) return null;
  const module = await load();
  module.setup();
  const { Manifold } = module;
  return ({ xyz, ends, diameters, nodeRadius, strutCount, nodeCount }, segments) => {
    const at = (v: number) => [xyz[3 * v], xyz[3 * v + 1], xyz[3 * v + 2]] as [number, number, number];
    const parts = [];
    for (let s = 0; s < strutCount; s++) {
      const [p, q] = [at(ends[2 * s]), at(ends[2 * s + 1])];
      const length = Math.hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2]);
      const cone = Manifold.cylinder(length, diameters[2 * s] / 2, diameters[2 * s + 1] / 2, segments);
      parts.push(cone.transform(fromZTo(p, q, length)));
      cone.delete();
    }
    for (let v = 0; v < nodeCount; v++) {
      const ball = Manifold.sphere(nodeRadius[v], segments);
      parts.push(ball.translate(at(v)));
      ball.delete();
    }
    const union = Manifold.union(parts);
    const volume = union.volume();
    for (const each of [...parts, union]) each.delete();
    return volume;
  };
}

/** Column-major motion of the z axis onto p -> q. */
function fromZTo(p: number[], q: number[], length: number): Mat4 {
  const [x, y, z] = q.map((each, k) => (each - p[k]) / length);
  const sign = z < 0 ? -1 : 1;
  const a = -1 / (sign + z);
  const b = x * y * a;
  const columns = [1 + sign * x * x * a, sign * b, -sign * x, 0, b, sign + y * y * a, -y, 0, x, y, z, 0, p[0], p[1], p[2], 1];
  return columns as unknown as Mat4;
}
