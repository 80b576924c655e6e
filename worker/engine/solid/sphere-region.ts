import type { Cap } from './caps.ts';
import { perpendiculars } from './frames.ts';
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

/** Integrals over a region of the unit sphere of 1, n, n n and n n n, by index with i >= j >= k. */
export interface RegionMoments {
  m0: number;
  m1: number[];
  m2: number[][];
  m3: number[][][];
}

export const newRegion = (): RegionMoments => ({ m0: 0, m1: [0, 0, 0], m2: square(), m3: [square(), square(), square()] });

const square = (): number[][] => [
  [0, 0, 0],
  [0, 0, 0],
  [0, 0, 0],
];

/** Adds an exposed arc's share of the boundary integrals, to be finished by `finishRegion`; nu points out of the region, into the cap. */
export function addArc(cap: Cap, from: number, to: number, pole: number[], region: RegionMoments): void {
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
export function finishRegion(region: RegionMoments): void {
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
export function addSphereFlux(c: ArrayLike<number>, R: number, region: RegionMoments, out: Moments): void {
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

/** Moments of the thin layer, per mm, by which a sphere of radius R about c grows over the region: its area. x = c + R n. */
export function addSphereGrowth(c: ArrayLike<number>, R: number, region: RegionMoments, out: Moments): void {
  const { m0, m1 } = region;
  const second = (i: number, j: number) =>
    R * R * (c[i] * c[j] * m0 + R * (c[i] * m1[j] + c[j] * m1[i]) + R * R * region.m2[Math.max(i, j)][Math.min(i, j)]);
  out[0] += R * R * m0;
  for (let i = 0; i < 3; i++) {
    out[1 + i] += R * R * (c[i] * m0 + R * m1[i]);
    out[4 + i] += second(i, i);
  }
  out[7] += second(0, 1);
  out[8] += second(0, 2);
  out[9] += second(1, 2);
}
