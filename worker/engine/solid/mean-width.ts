import Delaunator from 'delaunator';
import type { StrutGraph } from '../lattice/index.ts';
import { perpendiculars } from './frames.ts';

/**
 * Mean caliper width (mm) of the convex hull of equal spheres: that of the hull of their centres, plus their diameter. For a convex polyhedron it
 * is sum(edge length * angle between the faces' normals) / (4 pi) (Santalo 1976, from the integral of mean curvature). `nodes` are the first
 * nodes of the graph; they lie on a sphere about the origin that holds all others, so the struts lie within the hull as well. Should the
 * spheres differ in size the largest counts.
 */
export function meanWidth({ xyz, nodeRadius }: StrutGraph, nodes: number): number {
  const faces = sphericalHull(xyz, nodes);
  const normals = Array.from({ length: faces.length / 3 }, (_, f) => outwardNormal(xyz, faces.subarray(3 * f, 3 * f + 3)));
  const faceBeside = new Map<number, number>();
  let sum = 0;
  faces.forEach((a, k) => {
    const b = faces[k % 3 === 2 ? k - 2 : k + 1];
    const edge = Math.min(a, b) * nodes + Math.max(a, b);
    const other = faceBeside.get(edge);
    if (other === undefined) {
      faceBeside.set(edge, Math.floor(k / 3));
      return;
    }
    const length = Math.hypot(xyz[3 * a] - xyz[3 * b], xyz[3 * a + 1] - xyz[3 * b + 1], xyz[3 * a + 2] - xyz[3 * b + 2]);
    sum += length * angleBetween(normals[Math.floor(k / 3)], normals[other]);
  });
  return sum / (4 * Math.PI) + 2 * nodeRadius.subarray(0, nodes).reduce((most, radius) => Math.max(most, radius), 0);
}

/**
 * Triangles of the convex hull of points on a sphere about the origin. Seen from one of them (stereographic projection) the hull of the others is
 * their Delaunay triangulation, and the faces at that point lie over its outline.
 */
function sphericalHull(xyz: Float64Array, count: number): Uint32Array {
  const radius = Math.hypot(xyz[0], xyz[1], xyz[2]);
  const pole = [xyz[0] / radius, xyz[1] / radius, xyz[2] / radius] as const;
  const [ax, ay, az, bx, by, bz] = perpendiculars(...pole);
  const flat = new Float64Array(2 * (count - 1));
  for (let v = 1; v < count; v++) {
    const [x, y, z] = [xyz[3 * v] / radius, xyz[3 * v + 1] / radius, xyz[3 * v + 2] / radius];
    const scale = 1 / (1 - (x * pole[0] + y * pole[1] + z * pole[2]));
    flat[2 * v - 2] = scale * (x * ax + y * ay + z * az);
    flat[2 * v - 1] = scale * (x * bx + y * by + z * bz);
  }
  const { triangles, hull } = new Delaunator(flat);
  const faces = new Uint32Array(triangles.length + 3 * hull.length);
  faces.set(triangles.map((v) => v + 1));
  hull.forEach((v, k) => faces.set([0, v + 1, hull[(k + 1) % hull.length] + 1], triangles.length + 3 * k));
  return faces;
}

type Point = readonly [number, number, number];

/** Unit normal of a triangle of the hull, pointing away from the origin. */
function outwardNormal(xyz: Float64Array, [a, b, c]: Uint32Array): Point {
  const at = (v: number, k: number) => xyz[3 * v + k];
  const u = [0, 1, 2].map((k) => at(b, k) - at(a, k));
  const v = [0, 1, 2].map((k) => at(c, k) - at(a, k));
  const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  const side = n[0] * at(a, 0) + n[1] * at(a, 1) + n[2] * at(a, 2) < 0 ? -1 : 1;
  const length = side * Math.hypot(n[0], n[1], n[2]);
  return [n[0] / length, n[1] / length, n[2] / length];
}

/** From the chord between two unit vectors: exact also for nearly equal ones. */
const angleBetween = (p: Point, q: Point): number => 2 * Math.asin(Math.min(1, Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]) / 2));
