import Delaunator from 'delaunator';
import { type Cap, perpendiculars } from '../solid/index.ts';
import { distance } from './place.ts';

export interface Sphere {
  readonly centre: readonly number[];
  readonly radius: number;
}

/** What bounds the exposed part of a sphere: its caps, and the edges along them, the exposed part on their left. Vertices and triangles are appended. */
export interface Rim {
  readonly caps: readonly Cap[];
  readonly edges: readonly (readonly [number, number])[];
  readonly chordMm: number;
  readonly xyz: number[];
  readonly out: number[];
}

/**
 * Triangulates what the caps leave exposed of a node's sphere, between vertices on its edges and vertices spread over it, appended to `out`.
 * A stereographic projection keeps circles, so a Delaunay triangulation of the plane is one of the sphere; all vertices lie outside every cap,
 * so the consecutive ones on a cap's circle are joined in it, and the edges need no forcing. Pole: the middle of the widest cap, where no vertex is.
 * 'beyond': an edge is missing all the same.
 */
export function addSpherePatch({ centre, radius }: Sphere, { caps, edges, chordMm, xyz, out }: Rim): 'done' | 'beyond' {
  if (caps.length === 0) return 'beyond';
  const add = (place: readonly number[]): number => xyz.push(place[0], place[1], place[2]) / 3 - 1;
  const vertices = [...new Set(edges.flat())];
  const direction = (v: number) => [0, 1, 2].map((k) => (xyz[3 * v + k] - centre[k]) / radius);
  const rim = vertices.map(direction);
  // Triangles in a circle of this chord radius stay within the tolerance of the sphere.
  const spacing = Math.min(1, FINER * Math.sqrt((2 * chordMm) / radius));
  const sides = edges.map(([a, b]) => [direction(a), direction(b)]);
  const inner = spread(spacing).filter((n) => isOpen(n, caps) && sides.every(([p, q]) => isClear(n, p, q, spacing)));
  const points = [...rim, ...inner];
  const names = [...vertices, ...inner.map((n) => add(n.map((x, k) => centre[k] + radius * x)))];
  const flat = project(points, caps);
  const { triangles, halfedges } = new Delaunator(flat);
  const forward = turnsLeft(flat, triangles) ? 1 : -1;
  const boundary = new Set(edges.map(([a, b]) => `${a} ${b}`));
  /** Half-edge k runs from corner k to the next corner of its triangle, seen so that triangles turn left. */
  const endsOf = (k: number): [number, number] => {
    const [p, q] = [triangles[k], triangles[k % 3 === 2 ? k - 2 : k + 1]].map((i) => names[i]);
    return forward > 0 ? [p, q] : [q, p];
  };
  const inside = new Set<number>();
  const queue: number[] = [];
  let met = 0;
  for (let k = 0; k < triangles.length; k++) {
    if (!boundary.has(endsOf(k).join(' '))) continue;
    met++;
    queue.push(Math.floor(k / 3));
  }
  if (met !== boundary.size || met !== edges.length) return 'beyond';
  while (queue.length > 0) {
    const triangle = queue.pop()!;
    if (inside.has(triangle)) continue;
    inside.add(triangle);
    for (let k = 3 * triangle; k < 3 * triangle + 3; k++) {
      if (boundary.has(endsOf(k).join(' '))) continue;
      if (halfedges[k] < 0) return 'beyond';
      queue.push(Math.floor(halfedges[k] / 3));
    }
  }
  for (const triangle of inside) {
    const [a, b, c] = [0, 1, 2].map((k) => names[triangles[3 * triangle + k]]);
    out.push(...(forward > 0 ? [a, b, c] : [a, c, b]));
  }
  return 'done';
}

/** Whether a point leaves an edge of the rim alone: well outside the ball on it, and not too near its ends. */
function isClear(n: readonly number[], p: readonly number[], q: readonly number[], spacing: number): boolean {
  const [a, b] = [distance(n, p), distance(n, q)];
  return a * a + b * b > 1.2 * distance(p, q) ** 2 && a > spacing / 2;
}

const isOpen = (n: readonly number[], caps: readonly Cap[]) =>
  caps.every(({ axis, cosine }) => n[0] * axis[0] + n[1] * axis[1] + n[2] * axis[2] < cosine);

/** Points of a spiral leave holes up to this much wider than they are apart, more so beside a rim. */
const FINER = 0.75;

/** Directions spread evenly (Fibonacci's spiral), about `spacing` apart. */
function spread(spacing: number): number[][] {
  const count = Math.ceil((4 * Math.PI) / (0.866 * spacing * spacing));
  const golden = Math.PI * (3 - Math.sqrt(5));
  return Array.from({ length: count }, (_, k) => {
    const z = 1 - (2 * k + 1) / count;
    const r = Math.sqrt(1 - z * z);
    return [r * Math.cos(golden * k), r * Math.sin(golden * k), z];
  });
}

/** Stereographic projection from the middle of the widest cap; seen from outside left stays left. */
function project(points: readonly (readonly number[])[], caps: readonly Cap[]): Float64Array {
  const pole = caps.reduce((best, cap) => (cap.cosine < best.cosine ? cap : best)).axis;
  const sides = perpendiculars(pole[0], pole[1], pole[2]);
  const flat = new Float64Array(2 * points.length);
  points.forEach((n, k) => {
    const rise = 1 - (n[0] * pole[0] + n[1] * pole[1] + n[2] * pole[2]);
    // Looking from the pole's opposite side, the first two sides are mirrored: one changes its sign.
    flat[2 * k] = (n[0] * sides[0] + n[1] * sides[1] + n[2] * sides[2]) / rise;
    flat[2 * k + 1] = -(n[0] * sides[3] + n[1] * sides[4] + n[2] * sides[5]) / rise;
  });
  return flat;
}

function turnsLeft(flat: Float64Array, triangles: Uint32Array): boolean {
  const [a, b, c] = [0, 1, 2].map((k) => 2 * triangles[k]);
  return (flat[b] - flat[a]) * (flat[c + 1] - flat[a + 1]) - (flat[b + 1] - flat[a + 1]) * (flat[c] - flat[a]) > 0;
}
