import { bestPlaneNormal } from './best-plane.ts';

/** A weight this far below 0 is rounding of an edge pair that is exactly parallel. */
const PARALLEL = 1e-12;

/**
 * Diameter (mm) of the largest circle in the ring's best-fit plane that keeps radii[i] from the projected line of edge i (from point i to
 * point i + 1): the Chebyshev centre of half-planes, each moved inwards by its own radius. 0 when nothing is left. Exact for convex rings;
 * a ring with a notch is measured on the part that sees every edge, so the circle is never too large. points: 3 per node.
 *
 * Linear duality in place of a search for the centre: three edges whose normals surround the origin (weights w >= 0, sum 1, sum of w n = 0)
 * bound the radius by - sum of w d with d = n.p + radius, and the least of these bounds is attained. Cells have few edges, so all are tried.
 */
export function inscribedDiameter(points: Float64Array, radii: Float64Array): number {
  const { normals, offsets } = halfPlanes(points, radii);
  let least = Infinity;
  for (let i = 0; i < offsets.length; i++) {
    for (let j = i + 1; j < offsets.length; j++) {
      for (let k = j + 1; k < offsets.length; k++) least = Math.min(least, bound(normals, offsets, i, j, k));
    }
  }
  return Number.isFinite(least) ? Math.max(0, 2 * least) : 0;
}

/** Radius of the circle that touches the lines i, j, k from inside; Infinity when these three do not enclose one. */
function bound(normals: Float64Array, offsets: Float64Array, i: number, j: number, k: number): number {
  const cross = (p: number, q: number) => normals[2 * p] * normals[2 * q + 1] - normals[2 * p + 1] * normals[2 * q];
  const [wi, wj, wk] = [cross(j, k), cross(k, i), cross(i, j)];
  const sum = wi + wj + wk;
  if (Math.abs(sum) <= PARALLEL) return Infinity;
  if (Math.min(wi / sum, wj / sum, wk / sum) < -PARALLEL) return Infinity;
  return -(wi * offsets[i] + wj * offsets[j] + wk * offsets[k]) / sum;
}

/** Half-planes n.x >= d of the ring projected on its best-fit plane: inward unit normals (2 per edge) and d including the radius. */
function halfPlanes(points: Float64Array, radii: Float64Array) {
  const n = radii.length;
  const flat = project(points, bestPlaneNormal(points));
  const normals = new Float64Array(2 * n);
  const offsets = new Float64Array(n);
  let kept = 0;
  for (let i = 0; i < n; i++) {
    const [p, q] = [2 * i, 2 * ((i + 1) % n)];
    const [dx, dy] = [flat[q] - flat[p], flat[q + 1] - flat[p + 1]];
    const length = Math.hypot(dx, dy);
    if (length === 0) continue;
    normals[2 * kept] = -dy / length;
    normals[2 * kept + 1] = dx / length;
    offsets[kept] = (dx * flat[p + 1] - dy * flat[p]) / length + radii[i];
    kept++;
  }
  return { normals: normals.subarray(0, 2 * kept), offsets: offsets.subarray(0, kept) };
}

/** Plane coordinates (2 per point) about the first point, right-handed about the normal. */
function project(points: Float64Array, [nx, ny, nz]: [number, number, number]): Float64Array {
  // The axis the normal leans on least gives a safe first direction.
  const least = Math.min(Math.abs(nx), Math.abs(ny), Math.abs(nz));
  const [ax, ay, az] = least === Math.abs(nx) ? [0, -nz, ny] : least === Math.abs(ny) ? [nz, 0, -nx] : [-ny, nx, 0];
  const length = Math.hypot(ax, ay, az);
  const [ux, uy, uz] = [ax / length, ay / length, az / length];
  const [vx, vy, vz] = [ny * uz - nz * uy, nz * ux - nx * uz, nx * uy - ny * ux];
  const flat = new Float64Array((2 * points.length) / 3);
  for (let i = 0; 3 * i < points.length; i++) {
    const [x, y, z] = [points[3 * i] - points[0], points[3 * i + 1] - points[1], points[3 * i + 2] - points[2]];
    flat[2 * i] = x * ux + y * uy + z * uz;
    flat[2 * i + 1] = x * vx + y * vy + z * vz;
  }
  return flat;
}
