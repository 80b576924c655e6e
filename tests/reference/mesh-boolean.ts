import manifold, { type Manifold, type ManifoldToplevel, type Mat4 } from 'manifold-3d';
import type { StrutGraph } from '../../worker/engine/lattice/index.ts';

/** Moments of a closed mesh in the engine's order: volume, x y z, xx yy zz xy xz yz. */
export type MeshMoments = readonly number[];

export interface Extrapolated {
  readonly moments: MeshMoments;
  /** Difference of the last two extrapolations of the volume: what the extrapolated value is good to. */
  readonly errorMm3: number;
  /** Volume of the finest mesh itself. */
  readonly finestMm3: number;
}

let loading: Promise<ManifoldToplevel> | undefined;
const load = () => {
  loading ??= manifold().then((module) => {
    module.setup();
    return module;
  });
  return loading;
};

/** Lends the union of faceted cones and balls, made by a mesh Boolean, `segments` facets round. */
async function withUnion<T>(graph: StrutGraph, segments: number, use: (union: Manifold) => T): Promise<T> {
  const { Manifold } = await load();
  const { xyz, ends, diameters, nodeRadius, strutCount, nodeCount } = graph;
  const parts: Manifold[] = [];
  for (let s = 0; s < strutCount; s++) {
    const [p, q] = [0, 1].map((end) => [...xyz.subarray(3 * ends[2 * s + end], 3 * ends[2 * s + end] + 3)]);
    const cone = Manifold.cylinder(
      Math.hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2]),
      diameters[2 * s] / 2,
      diameters[2 * s + 1] / 2,
      segments,
    );
    parts.push(cone.transform(along(p, q)));
    cone.delete();
  }
  for (let v = 0; v < nodeCount; v++) {
    const sphere = Manifold.sphere(nodeRadius[v], segments);
    parts.push(sphere.translate([xyz[3 * v], xyz[3 * v + 1], xyz[3 * v + 2]]));
    sphere.delete();
  }
  const union = Manifold.union(parts);
  try {
    return use(union);
  } finally {
    for (const each of [...parts, union]) each.delete();
  }
}

export const meshUnion = (graph: StrutGraph, segments: number): Promise<MeshMoments> =>
  withUnion(graph, segments, (union) => {
    const mesh = union.getMesh();
    return momentsOfMesh(mesh.vertProperties, mesh.numProp, mesh.triVerts);
  });

export interface MeshSection {
  readonly areaMm2: number;
  readonly contourMm: number;
}

/** Level sections of the meshed union: area, and length of the outline with its holes. */
export const meshSections = (graph: StrutGraph, segments: number, heights: readonly number[]): Promise<MeshSection[]> =>
  withUnion(graph, segments, (union) =>
    heights.map((z) => {
      const section = union.slice(z);
      const contourMm = section.toPolygons().reduce((sum, polygon) => sum + perimeter(polygon), 0);
      const areaMm2 = section.area();
      section.delete();
      return { areaMm2, contourMm };
    }),
  );

const perimeter = (polygon: readonly (readonly [number, number])[]): number =>
  polygon.reduce((sum, [x, y], k) => {
    const [u, v] = polygon[(k + 1) % polygon.length];
    return sum + Math.hypot(u - x, v - y);
  }, 0);

/** Column-major motion that takes the z axis onto p -> q. */
function along(p: number[], q: number[]): Mat4 {
  const d = q.map((x, i) => x - p[i]);
  const u = d.map((x) => x / Math.hypot(...d));
  const k = u.findIndex((x) => Math.abs(x) === Math.min(...u.map(Math.abs)));
  const side = u.map((x, i) => (i === k ? 1 : 0) - x * u[k]);
  const a = side.map((x) => x / Math.hypot(...side));
  const b = [u[1] * a[2] - u[2] * a[1], u[2] * a[0] - u[0] * a[2], u[0] * a[1] - u[1] * a[0]];
  return [...a, 0, ...b, 0, ...u, 0, ...p, 1] as unknown as Mat4;
}

/** Sum over triangles of the tetrahedra to the origin. */
function momentsOfMesh(points: Float32Array, stride: number, triangles: Uint32Array): number[] {
  const out = new Array<number>(10).fill(0);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => [0, 1, 2].map((i) => points[stride * triangles[t + k] + i]));
    const six = a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
    const sum = a.map((x, i) => x + b[i] + c[i]);
    const second = (i: number, j: number) => (six / 120) * (sum[i] * sum[j] + a[i] * a[j] + b[i] * b[j] + c[i] * c[j]);
    out[0] += six / 6;
    for (let i = 0; i < 3; i++) {
      out[1 + i] += (six / 24) * sum[i];
      out[4 + i] += second(i, i);
    }
    out[7] += second(0, 1);
    out[8] += second(0, 2);
    out[9] += second(1, 2);
  }
  return out;
}

/**
 * Facets lose volume as c2 / n^2 + c4 / n^4 + ...: meshes of n, 2n and 4n segments, combined so that the first two powers go (Richardson).
 */
export async function extrapolatedUnion(graph: StrutGraph, segments: number): Promise<Extrapolated> {
  const meshes: MeshMoments[] = [];
  for (const n of [segments, 2 * segments, 4 * segments]) meshes.push(await meshUnion(graph, n));
  const without = (power: number, fine: MeshMoments, coarse: MeshMoments) =>
    fine.map((x, k) => (2 ** power * x - coarse[k]) / (2 ** power - 1));
  const once = [without(2, meshes[1], meshes[0]), without(2, meshes[2], meshes[1])];
  const moments = without(4, once[1], once[0]);
  return { moments, errorMm3: Math.abs(moments[0] - once[1][0]), finestMm3: meshes[2][0] };
}
