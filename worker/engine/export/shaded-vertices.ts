import type { StrutGraph } from '../lattice/index.ts';
import type { SurfaceMesh } from '../mesh/index.ts';

/** The triangles of one role as glTF wants them: metres, +Y up, a normal for every vertex. */
export interface ShadedPart {
  readonly role: number;
  readonly name: string;
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  readonly indices: Uint32Array;
}

/** Triangles between two calls of `poll`: below a millisecond. */
const POLL_EVERY = 1024;

/**
 * Splits a mesh by role, spheres with their first strut, and gives each vertex the exact normal of the body it lies on: in a crease it is there once
 * for each of its bodies. What `poll` throws ends it.
 */
export function shadedVertices({ xyz, triangles, owner }: SurfaceMesh, graph: StrutGraph, poll: () => void): ShadedPart[] {
  const roleOf = rolesOf(graph);
  return graph.roleNames.flatMap((name, role) => {
    const positions: number[] = [];
    const normals: number[] = [];
    const indices: number[] = [];
    const known = new Map<number, number>();
    owner.forEach((body, t) => {
      if (t % POLL_EVERY === 0) poll();
      if (roleOf(body) !== role) return;
      for (let k = 3 * t; k < 3 * t + 3; k++) {
        const vertex = triangles[k];
        const key = (body + graph.nodeCount) * (xyz.length / 3) + vertex;
        if (!known.has(key)) {
          known.set(key, positions.length / 3);
          const [x, y, z] = xyz.subarray(3 * vertex, 3 * vertex + 3);
          const [u, v, w] = normalAt(graph, body, x, y, z);
          positions.push(x / 1000, z / 1000, -y / 1000);
          normals.push(u, w, -v);
        }
        indices.push(known.get(key)!);
      }
    });
    if (indices.length === 0) return [];
    return [
      { role, name, positions: Float32Array.from(positions), normals: Float32Array.from(normals), indices: Uint32Array.from(indices) },
    ];
  });
}

/** Role of a strut, or of the first strut that ends at a node (-1 - node). */
function rolesOf({ strutCount, nodeCount, ends, roles }: StrutGraph): (body: number) => number {
  const ofNode = new Int32Array(nodeCount);
  for (let s = strutCount - 1; s >= 0; s--) ofNode[ends[2 * s]] = ofNode[ends[2 * s + 1]] = roles[s];
  return (body) => (body >= 0 ? roles[body] : ofNode[-1 - body]);
}

/** Unit normal of a strut's cone, or of a node's sphere, where a place lies on it. */
export function normalAt({ xyz, ends, diameters }: StrutGraph, body: number, x: number, y: number, z: number): [number, number, number] {
  const a = 3 * (body >= 0 ? ends[2 * body] : -1 - body);
  const [px, py, pz] = [x - xyz[a], y - xyz[a + 1], z - xyz[a + 2]];
  if (body < 0) return unit(px, py, pz);
  const b = 3 * ends[2 * body + 1];
  const [dx, dy, dz] = [xyz[b] - xyz[a], xyz[b + 1] - xyz[a + 1], xyz[b + 2] - xyz[a + 2]];
  const square = dx * dx + dy * dy + dz * dz;
  const along = (px * dx + py * dy + pz * dz) / square;
  const [ex, ey, ez] = unit(px - along * dx, py - along * dy, pz - along * dz);
  const lean = (diameters[2 * body + 1] - diameters[2 * body]) / 2 / square;
  return unit(ex - lean * dx, ey - lean * dy, ez - lean * dz);
}

function unit(x: number, y: number, z: number): [number, number, number] {
  const length = Math.hypot(x, y, z) || 1;
  return [x / length, y / length, z / length];
}
