import { AXIS, type Frames, LENGTH, perpendiculars, RADIUS, SLOPE, STRIDE } from './frames.ts';
import type { Moments } from './moments.ts';

/** Nodes and weights of the 8-point Gauss-Legendre rule on [-1, 1] (Abramowitz and Stegun, table 25.4). */
const GAUSS: readonly (readonly [number, number])[] = [
  [-0.9602898564975363, 0.1012285362903763],
  [-0.7966664774136267, 0.2223810344533745],
  [-0.525532409916329, 0.3137066458778873],
  [-0.1834346424956498, 0.362683783378362],
  [0.1834346424956498, 0.362683783378362],
  [0.525532409916329, 0.3137066458778873],
  [0.7966664774136267, 0.2223810344533745],
  [0.9602898564975363, 0.1012285362903763],
];
/** Longest arc integrated at once (radians): trigonometric polynomials of degree 3 are then exact to rounding. */
const LONGEST = 1.2;

/** A spherical cap around a unit axis; the directions n with n . axis > cosine are covered. */
export interface Cap {
  readonly axis: readonly [number, number, number];
  readonly cosine: number;
}

/**
 * The caps that the struts at a node cut from its sphere: strut and sphere are coaxial, so each meets the sphere in a circle, where
 * t^2 + (r + slope t)^2 = R^2.
 */
export function strutCaps({ data, nodes, nodeRadius, incidentPtr, incident }: Frames, node: number): Cap[] {
  const caps: Cap[] = [];
  for (let k = incidentPtr[node]; k < incidentPtr[node + 1]; k++) {
    const s = STRIDE * incident[k];
    const starts =
      Math.hypot(data[s] - nodes[3 * node], data[s + 1] - nodes[3 * node + 1], data[s + 2] - nodes[3 * node + 2]) < 1e-9 * data[s + LENGTH];
    const slope = starts ? data[s + SLOPE] : -data[s + SLOPE];
    const radius = starts ? data[s + RADIUS] : data[s + RADIUS] + data[s + SLOPE] * data[s + LENGTH];
    const sign = starts ? 1 : -1;
    const a = 1 + slope * slope;
    const b = slope * radius;
    const reach = (-b + Math.sqrt(Math.max(0, b * b + a * (nodeRadius[node] ** 2 - radius * radius)))) / a;
    caps.push({
      axis: [sign * data[s + AXIS], sign * data[s + AXIS + 1], sign * data[s + AXIS + 2]],
      cosine: Math.max(0, reach) / nodeRadius[node],
    });
  }
  return caps;
}

/** Integrals over a region of the unit sphere of 1, n, n n and n n n, from its boundary. */
interface RegionMoments {
  m0: number;
  m1: number[];
  m2: number[][];
  m3: number[][][];
}

/**
 * Adds the part of a node's sphere outside all caps to the moments of the solid it bounds. `caps[0]` must be a strut's.
 * Area: flux of the one-form p . (n x dn) / (1 + n . p), regular away from -p, which is put under the first cap. The higher integrals follow
 * from the spherical harmonics of degree 1 to 3, whose surface Laplacian is -l (l + 1) times themselves (Green's theorem on the sphere).
 */
export function addNodeSphere(centre: ArrayLike<number>, radius: number, caps: readonly Cap[], out: Moments): void {
  const region: RegionMoments = { m0: 0, m1: [0, 0, 0], m2: square(), m3: [square(), square(), square()] };
  const pole = caps[0].axis.map((x) => -x);
  let arcs = 0;
  for (const [k, cap] of caps.entries()) {
    for (const [from, to] of exposedArcs(cap, k, caps)) {
      arcs++;
      addArc(cap, from, to, pole, region);
    }
  }
  if (arcs === 0) return;
  finishHarmonics(region);
  addSphereFlux(centre, radius, region, out);
}

const square = (): number[][] => [
  [0, 0, 0],
  [0, 0, 0],
  [0, 0, 0],
];

/** Stretches of a cap's circle (angle about its axis) outside all the others. Of two equal caps the first alone keeps its circle. */
export function exposedArcs(cap: Cap, index: number, caps: readonly Cap[]): [number, number][] {
  const sine = Math.sqrt(Math.max(0, 1 - cap.cosine * cap.cosine));
  if (Math.abs(cap.cosine) >= 1) return [];
  const [ax, ay, az, bx, by, bz] = perpendiculars(...cap.axis);
  const covered: [number, number][] = [];
  for (const [k, other] of caps.entries()) {
    if (k === index) continue;
    const along = cap.axis[0] * other.axis[0] + cap.axis[1] * other.axis[1] + cap.axis[2] * other.axis[2];
    const u = ax * other.axis[0] + ay * other.axis[1] + az * other.axis[2];
    const v = bx * other.axis[0] + by * other.axis[1] + bz * other.axis[2];
    const across = sine * Math.hypot(u, v);
    const least = other.cosine - cap.cosine * along;
    // Covered where across * cos(angle - middle) > least.
    if (across <= 1e-14) {
      if (least < -1e-14 || (Math.abs(least) <= 1e-14 && along > 0 && k < index)) return [];
      continue;
    }
    if (least >= across) continue;
    if (least <= -across) return [];
    const middle = Math.atan2(v, u);
    const half = Math.acos(least / across);
    covered.push([middle - half, middle + half]);
  }
  return complement(covered);
}

/** Complement of arcs on the circle, as [from, to] with to > from. */
function complement(covered: [number, number][]): [number, number][] {
  if (covered.length === 0) return [[0, 2 * Math.PI]];
  const turn = 2 * Math.PI;
  const start = covered[0][1];
  const arcs = covered.map(([from, to]): [number, number] => {
    const shifted = (((from - start) % turn) + turn) % turn;
    return [shifted, shifted + to - from];
  });
  arcs.sort((a, b) => a[0] - b[0]);
  const free: [number, number][] = [];
  // Everything is measured from the end of the first arc; arcs that run past a full turn cover the beginning.
  let reached = Math.max(0, ...arcs.map(([, to]) => to - turn));
  for (const [from, to] of arcs) {
    if (from > reached) free.push([start + reached, start + from]);
    reached = Math.max(reached, to);
  }
  if (reached < turn) free.push([start + reached, start + turn]);
  return free.filter(([from, to]) => to - from > 1e-13);
}

/** Adds one arc's share of the boundary integrals; nu points out of the region, into the cap. */
function addArc(cap: Cap, from: number, to: number, pole: number[], region: RegionMoments): void {
  const [c, s] = [cap.cosine, Math.sqrt(1 - cap.cosine * cap.cosine)];
  const u = cap.axis;
  const [ax, ay, az, bx, by, bz] = perpendiculars(...u);
  const parts = Math.ceil((to - from) / LONGEST);
  const half = (to - from) / (2 * parts);
  for (let p = 0; p < parts; p++) {
    for (const [node, weight] of GAUSS) {
      const angle = from + (2 * p + 1) * half + half * node;
      const [cosine, sine] = [Math.cos(angle), Math.sin(angle)];
      const side = [ax * cosine + bx * sine, ay * cosine + by * sine, az * cosine + bz * sine];
      const n = side.map((e, k) => c * u[k] + s * e);
      const nu = side.map((e, k) => s * u[k] - c * e);
      const ds = weight * half * s;
      region.m0 -= (ds * (nu[0] * pole[0] + nu[1] * pole[1] + nu[2] * pole[2])) / (1 + n[0] * pole[0] + n[1] * pole[1] + n[2] * pole[2]);
      for (let i = 0; i < 3; i++) {
        region.m1[i] += ds * nu[i];
        for (let j = 0; j <= i; j++) {
          region.m2[i][j] += ds * (n[i] * nu[j] + nu[i] * n[j]);
          for (let k = 0; k <= j; k++) region.m3[i][j][k] += ds * (nu[i] * n[j] * n[k] + n[i] * nu[j] * n[k] + n[i] * n[j] * nu[k]);
        }
      }
    }
  }
}

/** Turns the boundary sums into integrals of n, n n and n n n over the region (lower triangles; read through `sorted` below). */
function finishHarmonics(region: RegionMoments): void {
  const flux = region.m1;
  const delta = (i: number, j: number) => (i === j ? 1 : 0);
  const mixed = (v: number[], i: number, j: number, k: number) => delta(i, j) * v[k] + delta(i, k) * v[j] + delta(j, k) * v[i];
  const m1 = flux.map((x) => -x / 2);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j <= i; j++) {
      region.m2[i][j] = (delta(i, j) * region.m0) / 3 - region.m2[i][j] / 6;
      for (let k = 0; k <= j; k++) region.m3[i][j][k] = mixed(m1, i, j, k) / 5 - (region.m3[i][j][k] - mixed(flux, i, j, k) / 5) / 12;
    }
  }
  region.m1 = m1;
}

/** x = c + R n, x . n = c . n + R. */
function addSphereFlux(c: ArrayLike<number>, R: number, region: RegionMoments, out: Moments): void {
  const { m0, m1 } = region;
  const m2 = (i: number, j: number) => region.m2[Math.max(i, j)][Math.min(i, j)];
  const m3 = (...ijk: number[]) => {
    const [k, j, i] = ijk.sort((a, b) => a - b);
    return region.m3[i][j][k];
  };
  const support = R * m0 + c[0] * m1[0] + c[1] * m1[1] + c[2] * m1[2];
  const supportN = [0, 1, 2].map((i) => R * m1[i] + c[0] * m2(0, i) + c[1] * m2(1, i) + c[2] * m2(2, i));
  const supportNN = (i: number, j: number) => R * m2(i, j) + c[0] * m3(0, i, j) + c[1] * m3(1, i, j) + c[2] * m3(2, i, j);
  const second = (i: number, j: number) =>
    (R * R * (c[i] * c[j] * support + R * (c[i] * supportN[j] + c[j] * supportN[i]) + R * R * supportNN(i, j))) / 5;
  out[0] += (R * R * support) / 3;
  for (let i = 0; i < 3; i++) {
    out[1 + i] += (R * R * (c[i] * support + R * supportN[i])) / 4;
    out[4 + i] += second(i, i);
  }
  out[7] += second(0, 1);
  out[8] += second(0, 2);
  out[9] += second(1, 2);
}
