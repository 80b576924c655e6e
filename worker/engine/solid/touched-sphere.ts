import { type Cap, complement, coveredArcs, exposedArcs } from './caps.ts';
import { AXIS, type Frames, LENGTH, perpendiculars, RADIUS, SLOPE, STRIDE } from './frames.ts';
import { openParts } from './open-parts.ts';
import { GAUSS_WEIGHT, KRONROD_WEIGHT, NODE, POINTS } from './quadrature.ts';
import { newRegion, type RegionMoments } from './sphere-region.ts';

/** Looks along an arc for the places where a strut begins or ends. */
const LOOKS = 96;
/** Accepted difference of the two rules on a slice of the sphere (of its unit area), and the most halvings. */
const TOLERANCE = 1e-7;
const DEEPEST = 22;

/**
 * The exposed part of a node's sphere that struts which do not meet at the node cut as well: their traces are no circles, so the sphere is
 * integrated by circles of latitude about the first cap's axis, each complement of covered arcs found on it, adaptively over the latitude.
 * Slower and less exact (about 1e-7 of the sphere) than the boundary integrals; only crowded graphs need it.
 */
export function touchedRegion(frames: Frames, node: number, caps: readonly Cap[], struts: readonly number[]): RegionMoments {
  const centre = frames.nodes.subarray(3 * node, 3 * node + 3);
  const R = frames.nodeRadius[node];
  const axis = caps[0]?.axis ?? ([0, 0, 1] as const);
  const sides = perpendiculars(...axis);
  const total = newRegion();

  function circle(cosine: number, weight: number, into: RegionMoments): void {
    const sine = Math.sqrt(Math.max(0, 1 - cosine * cosine));
    const covered = coveredArcs({ axis, cosine }, -1, caps);
    if (covered === null) return;
    const direction = (angle: number) =>
      [0, 1, 2].map((k) => cosine * axis[k] + sine * (sides[k] * Math.cos(angle) + sides[3 + k] * Math.sin(angle)));
    const clear = (angle: number) => {
      const p = direction(angle).map((n, k) => centre[k] + R * n);
      return Math.min(...struts.map((strut) => inside(frames, strut, p)));
    };
    for (const [a, b] of complement(covered)) openParts(clear, a, b, LOOKS, (from, to) => addParallel(direction, from, to, weight, into));
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

  // The latitudes are parted where a strut's axis leaves the sphere and a little beside, so that no rule steps over a thin one.
  const top = caps[0]?.cosine ?? 1;
  const parted = [-1, ...struts.flatMap((strut) => latitudesOf(frames, centre, R, strut, axis)).filter((c) => c > -1 && c < top), top];
  parted.sort((a, b) => a - b);
  for (let k = 1; k < parted.length; k++) slab(parted[k - 1], parted[k], 0);
  return total;
}

/** Whether a strut that does not meet at the node covers any of its sphere outside the caps: looked for on the region's outline and at the strut. */
export function reachesOpenSphere(frames: Frames, node: number, caps: readonly Cap[], strut: number): boolean {
  const centre = frames.nodes.subarray(3 * node, 3 * node + 3);
  const R = frames.nodeRadius[node];
  const covers = (n: readonly number[]) =>
    inside(
      frames,
      strut,
      [0, 1, 2].map((k) => centre[k] + R * n[k]),
    ) <
    -1e-12 * R * R;
  const open = (n: readonly number[]) => caps.every(({ axis, cosine }) => n[0] * axis[0] + n[1] * axis[1] + n[2] * axis[2] <= cosine);
  for (const [k, cap] of caps.entries()) {
    const sine = Math.sqrt(Math.max(0, 1 - cap.cosine * cap.cosine));
    const sides = perpendiculars(...cap.axis);
    for (const [from, to] of exposedArcs(cap, k, caps)) {
      for (let look = 0; look <= LOOKS; look++) {
        const angle = from + ((to - from) * look) / LOOKS;
        if (covers([0, 1, 2].map((i) => cap.cosine * cap.axis[i] + sine * (sides[i] * Math.cos(angle) + sides[3 + i] * Math.sin(angle)))))
          return true;
      }
    }
  }
  return traceOf(frames, centre, R, strut).some((n) => open(n) && covers(n));
}

/** Directions from a sphere's centre to places along a strut's axis: if its trace lies within the open region, one of these lies in it too. */
function traceOf({ data }: Frames, centre: Float64Array, R: number, strut: number): number[][] {
  const s = STRIDE * strut;
  const directions: number[][] = [];
  for (let look = 0; look <= LOOKS; look++) {
    const t = (data[s + LENGTH] * look) / LOOKS;
    const d = [0, 1, 2].map((k) => data[s + k] + t * data[s + AXIS + k] - centre[k]);
    const length = Math.hypot(d[0], d[1], d[2]);
    if (length > 1e-9 * R) directions.push(d.map((x) => x / length));
  }
  return directions;
}

/** Cosines about an axis of the directions in which a strut's axis crosses the sphere, and of the edges of the strut there. */
function latitudesOf({ data }: Frames, centre: Float64Array, R: number, strut: number, axis: readonly number[]): number[] {
  const s = STRIDE * strut;
  const d = [0, 1, 2].map((k) => data[s + k] - centre[k]);
  const along = d[0] * data[s + AXIS] + d[1] * data[s + AXIS + 1] + d[2] * data[s + AXIS + 2];
  const root = Math.sqrt(Math.max(0, along * along - d[0] * d[0] - d[1] * d[1] - d[2] * d[2] + R * R));
  return [-along - root, -along + root].flatMap((t) => {
    const cosine = [0, 1, 2].reduce((sum, k) => sum + ((d[k] + t * data[s + AXIS + k]) * axis[k]) / R, 0);
    const breadth = Math.abs(data[s + RADIUS] + data[s + SLOPE] * t) / R;
    return [cosine - breadth, cosine, cosine + breadth];
  });
}

/** Negative inside a strut's frustum. */
export function inside({ data }: Frames, strut: number, p: readonly number[]): number {
  const s = STRIDE * strut;
  const d = [p[0] - data[s], p[1] - data[s + 1], p[2] - data[s + 2]];
  const along = d[0] * data[s + AXIS] + d[1] * data[s + AXIS + 1] + d[2] * data[s + AXIS + 2];
  const radius = data[s + RADIUS] + data[s + SLOPE] * along;
  return Math.max(d[0] * d[0] + d[1] * d[1] + d[2] * d[2] - along * along - radius * radius, -along, along - data[s + LENGTH]);
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
