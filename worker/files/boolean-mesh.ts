import loadManifold, { type Manifold, type ManifoldToplevel, type Mat4, type Mesh } from 'manifold-3d';
import { openEdges, type StrutGraph, type SurfaceMesh } from '../engine/index.ts';
import { stepAngle } from '../engine/mesh/index.ts';

/** Features below this share of the chord tolerance are taken away: they would vanish in floats of 32 bits. */
const SIMPLER = 0.02;
const LEAST_MM = 5e-4;

let loading: Promise<ManifoldToplevel> | undefined;
const load = () =>
  (loading ??= loadManifold().then((module) => {
    module.setup();
    return module;
  }));

/** Solids joined at once, and then what became of them: the kernel cannot be stopped on the way. More take no less time in all. */
const JOINED = 2;

/**
 * Surface of the union by a Boolean of faceted cones and balls, whose facets lie as far outside the exact surface as inside. Throws where it is not closed, and
 * what `poll` throws, which is called between steps of the Boolean.
 */
export async function booleanMesh(graph: StrutGraph, chordMm: number, poll = () => {}): Promise<SurfaceMesh> {
  const kernel = await load();
  /** Solids in the kernel's memory, which has no collector. */
  const held = new Set<Manifold>();
  try {
    const bodies = new Map<number, number>();
    let solids = solidsOf(graph, chordMm, kernel, (solid, body) => {
      poll();
      held.add(solid);
      bodies.set(solid.originalID(), body);
    });
    while (solids.length > 1) {
      const next: Manifold[] = [];
      for (let k = 0; k < solids.length; k += JOINED) {
        poll();
        const some = solids.slice(k, k + JOINED);
        const joined = kernel.Manifold.union(some);
        held.add(joined);
        // asked for, it is worked out
        joined.numTri();
        for (const each of some) {
          held.delete(each);
          each.delete();
        }
        next.push(joined);
      }
      solids = next;
    }
    poll();
    const simple = solids[0].simplify(Math.max(LEAST_MM, SIMPLER * chordMm));
    held.add(simple);
    const mesh = meshOf(simple.getMesh(), bodies);
    if (openEdges(mesh.triangles, mesh.xyz.length / 3).length > 0) throw new Error('the Boolean of the bodies left an open surface');
    return mesh;
  } finally {
    for (const each of held) each.delete();
  }
}

/** A cone for each strut, a ball for each node, in order; each is told with its body as soon as it is there. */
function solidsOf(
  { xyz, ends, diameters, nodeRadius, strutCount, nodeCount }: StrutGraph,
  chordMm: number,
  { Manifold }: ManifoldToplevel,
  tell: (solid: Manifold, body: number) => void,
): Manifold[] {
  const at = (v: number) => [xyz[3 * v], xyz[3 * v + 1], xyz[3 * v + 2]] as [number, number, number];
  const segmentsOf = (r: number) => 4 * Math.ceil(Math.PI / 2 / stepAngle(r, chordMm));
  const grown = (r: number, segments: number) => r + (2 / 3) * r * (1 - Math.cos(Math.PI / segments));
  const kept = (made: Manifold, move: (made: Manifold) => Manifold, body: number): Manifold => {
    const moved = move(made);
    const solid = moved.asOriginal();
    made.delete();
    moved.delete();
    tell(solid, body);
    return solid;
  };
  const cones = Array.from({ length: strutCount }, (_, s) => {
    const [p, q] = [at(ends[2 * s]), at(ends[2 * s + 1])];
    const [r0, r1] = [diameters[2 * s] / 2, diameters[2 * s + 1] / 2];
    const segments = segmentsOf(Math.max(r0, r1));
    const length = Math.hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2]);
    const cone = Manifold.cylinder(length, grown(r0, segments), grown(r1, segments), segments);
    return kept(cone, (made) => made.transform(ontoAxis(p, q, length)), s);
  });
  const balls = Array.from({ length: nodeCount }, (_, v) => {
    const segments = segmentsOf(nodeRadius[v]);
    return kept(Manifold.sphere(grown(nodeRadius[v], segments), segments), (made) => made.translate(at(v)), -1 - v);
  });
  return [...cones, ...balls];
}

/** Joins the vertices that the kernel keeps apart where bodies meet, and names the body of each triangle. */
function meshOf(
  { vertProperties, numProp, triVerts, mergeFromVert, mergeToVert, runIndex, runOriginalID }: Mesh,
  bodies: ReadonlyMap<number, number>,
): SurfaceMesh {
  const count = vertProperties.length / numProp;
  const merged = Uint32Array.from({ length: count }, (_, v) => v);
  mergeFromVert?.forEach((v, k) => (merged[v] = mergeToVert![k]));
  const number = new Map<number, number>();
  const xyz: number[] = [];
  const triangles = Uint32Array.from(triVerts, (each) => {
    const v = merged[each];
    if (!number.has(v)) number.set(v, xyz.push(...vertProperties.subarray(numProp * v, numProp * v + 3)) / 3 - 1);
    return number.get(v)!;
  });
  const owner = new Int32Array(triangles.length / 3);
  runOriginalID?.forEach((id, k) => owner.fill(bodies.get(id) ?? 0, runIndex![k] / 3, runIndex![k + 1] / 3));
  return { xyz: Float64Array.from(xyz), triangles, owner };
}

/** Column-major motion of the z axis onto p -> q. */
function ontoAxis(p: readonly number[], q: readonly number[], length: number): Mat4 {
  const [x, y, z] = q.map((each, k) => (each - p[k]) / length);
  const sign = z < 0 ? -1 : 1;
  const a = -1 / (sign + z);
  const b = x * y * a;
  return [1 + sign * x * x * a, sign * b, -sign * x, 0, b, sign + y * y * a, -y, 0, x, y, z, 0, p[0], p[1], p[2], 1] as unknown as Mat4;
}
