import { type Arc, type Cap, complement, coveredArcs } from './caps.ts';
import { AXIS, type Frames, LENGTH, perpendiculars, RADIUS, SLOPE, STRIDE } from './frames.ts';
import type { Moments } from './moments.ts';
import { GAUSS_WEIGHT, KRONROD_WEIGHT, NODE, POINTS } from './quadrature.ts';
import { addSphereFlux, newRegion, type RegionMoments } from './sphere-region.ts';

/** Looks round a circle for the places where a strut begins or ends. */
const LOOKS = 96;
const BISECTIONS = 45;
/** Accepted difference of the two rules on a slice of the sphere (of its unit area), and the most halvings. */
const TOLERANCE = 1e-7;
const DEEPEST = 22;

/**
 * Adds the exposed part of a node's sphere that struts which do not meet at the node cut as well: their traces are no circles, so the sphere is
 * integrated by circles of latitude about the first cap's axis, each complement of covered arcs found on it, adaptively over the latitude.
 * Slower and less exact (about 1e-7 of the sphere) than the boundary integrals; only crowded graphs need it.
 */
export function addTouchedSphere(frames: Frames, node: number, caps: readonly Cap[], struts: readonly number[], out: Moments): void {
  const centre = frames.nodes.subarray(3 * node, 3 * node + 3);
  const R = frames.nodeRadius[node];
  const axis = caps[0].axis;
  const sides = perpendiculars(...axis);
  const total = newRegion();

  function circle(cosine: number, weight: number, into: RegionMoments): void {
    const sine = Math.sqrt(Math.max(0, 1 - cosine * cosine));
    const byCaps = coveredArcs({ axis, cosine }, -1, caps);
    if (byCaps === null) return;
    const covered = [...byCaps];
    const direction = (angle: number) =>
      [0, 1, 2].map((k) => cosine * axis[k] + sine * (sides[k] * Math.cos(angle) + sides[3 + k] * Math.sin(angle)));
    for (const strut of struts)
      covered.push(
        ...arcsInside((angle) =>
          inside(
            frames,
            strut,
            direction(angle).map((n, k) => centre[k] + R * n),
          ),
        ),
      );
    for (const [a, b] of complement(covered)) addParallel(direction, a, b, weight, into);
  }

  function slab(low: number, high: number, depth: number): void {
    const half = (high - low) / 2;
    const [kronrod, gauss] = [newRegion(), newRegion()];
    for (let k = 0; k < POINTS; k++) {
      const cosine = low + half + half * NODE[k];
      circle(cosine, half * KRONROD_WEIGHT[k], kronrod);
      if (GAUSS_WEIGHT[k] > 0) circle(cosine, half * GAUSS_WEIGHT[k], gauss);
    }
    if (Math.abs(kronrod.m0 - gauss.m0) > TOLERANCE && depth < DEEPEST) {
      slab(low, low + half, depth + 1);
      slab(low + half, high, depth + 1);
    } else addRegion(total, kronrod);
  }

  slab(-1, caps[0].cosine, 0);
  addSphereFlux(centre, R, total, out);
}

/** Negative inside a strut's frustum. */
function inside({ data }: Frames, strut: number, p: number[]): number {
  const s = STRIDE * strut;
  const d = [p[0] - data[s], p[1] - data[s + 1], p[2] - data[s + 2]];
  const along = d[0] * data[s + AXIS] + d[1] * data[s + AXIS + 1] + d[2] * data[s + AXIS + 2];
  const radius = data[s + RADIUS] + data[s + SLOPE] * along;
  return Math.max(d[0] * d[0] + d[1] * d[1] + d[2] * d[2] - along * along - radius * radius, -along, along - data[s + LENGTH]);
}

function arcsInside(outside: (angle: number) => number): Arc[] {
  const step = (2 * Math.PI) / LOOKS;
  const signs = Array.from({ length: LOOKS }, (_, k) => outside(k * step) < 0);
  const root = (low: number, high: number): number => {
    const from = outside(low) < 0;
    for (let k = 0; k < BISECTIONS; k++) {
      const middle = (low + high) / 2;
      if (outside(middle) < 0 === from) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  };
  if (!signs.includes(false)) return [[0, 2 * Math.PI]];
  const arcs: Arc[] = [];
  for (let k = 0; k < LOOKS; k++) {
    if (signs[k] || !signs[(k + 1) % LOOKS]) continue;
    let end = k + 1;
    while (signs[(end + 1) % LOOKS]) end++;
    arcs.push([root(k * step, (k + 1) * step), root(end * step, (end + 1) * step)]);
  }
  return arcs;
}

/** Integrals of 1, n, n n, n n n along an exposed arc of a circle of latitude (dOmega = dcosine dangle). */
function addParallel(direction: (angle: number) => number[], a: number, b: number, weight: number, into: RegionMoments): void {
  const half = (b - a) / 2;
  for (let k = 0; k < POINTS; k++) {
    const n = direction(a + half + half * NODE[k]);
    const w = weight * half * KRONROD_WEIGHT[k];
    into.m0 += w;
    for (let i = 0; i < 3; i++) {
      into.m1[i] += w * n[i];
      for (let j = 0; j <= i; j++) {
        into.m2[i][j] += w * n[i] * n[j];
        for (let l = 0; l <= j; l++) into.m3[i][j][l] += w * n[i] * n[j] * n[l];
      }
    }
  }
}

function addRegion(total: RegionMoments, part: RegionMoments): void {
  total.m0 += part.m0;
  for (let i = 0; i < 3; i++) {
    total.m1[i] += part.m1[i];
    for (let j = 0; j <= i; j++) {
      total.m2[i][j] += part.m2[i][j];
      for (let l = 0; l <= j; l++) total.m3[i][j][l] += part.m3[i][j][l];
    }
  }
}
