import { AXIS, type Frames, LENGTH, perpendiculars, RADIUS, SLOPE, STRIDE } from './frames.ts';

/** A spherical cap around a unit axis; the directions n with n . axis > cosine are covered. */
export interface Cap {
  readonly axis: readonly [number, number, number];
  readonly cosine: number;
}

/** Axes closer than this (radians) count as one: rounding of a short strut's direction would else part two circles that are the same. */
const COAXIAL = 1e-9;

/** A stretch of a circle, [from, to] with to > from, radians. */
export type Arc = readonly [number, number];

/**
 * The cap that a strut cuts from the sphere of radius R at its end (2 * strut + end): they are coaxial, so they meet in a circle, where
 * t^2 + (r + slope t)^2 = R^2. null when the strut ends before it leaves the sphere.
 */
export function strutCap({ data }: Frames, end: number, R: number): Cap | null {
  const s = STRIDE * (end >> 1);
  const starts = (end & 1) === 0;
  const slope = starts ? data[s + SLOPE] : -data[s + SLOPE];
  const radius = starts ? data[s + RADIUS] : data[s + RADIUS] + data[s + SLOPE] * data[s + LENGTH];
  const sign = starts ? 1 : -1;
  const a = 1 + slope * slope;
  const b = slope * radius;
  const reach = Math.max(0, (-b + Math.sqrt(Math.max(0, b * b + a * (R * R - radius * radius)))) / a);
  if (reach >= data[s + LENGTH]) return null;
  return { axis: [sign * data[s + AXIS], sign * data[s + AXIS + 1], sign * data[s + AXIS + 2]], cosine: reach / R };
}

/** Stretches of a cap's circle (angle about its axis) outside all the others. Of two equal caps the first alone keeps its circle. */
export function exposedArcs(cap: Cap, index: number, caps: readonly Cap[]): Arc[] {
  const covered = coveredArcs(cap, index, caps);
  return covered === null ? [] : complement(covered);
}

/** The arcs of a cap's circle that the other caps cover; null when nothing of it is left. `index` is the cap's own place among them, or -1. */
export function coveredArcs(cap: Cap, index: number, caps: readonly Cap[]): Arc[] | null {
  const sine = Math.sqrt(Math.max(0, 1 - cap.cosine * cap.cosine));
  if (Math.abs(cap.cosine) >= 1) return null;
  const [ax, ay, az, bx, by, bz] = perpendiculars(...cap.axis);
  const covered: Arc[] = [];
  for (const [k, other] of caps.entries()) {
    if (k === index) continue;
    const along = cap.axis[0] * other.axis[0] + cap.axis[1] * other.axis[1] + cap.axis[2] * other.axis[2];
    const u = ax * other.axis[0] + ay * other.axis[1] + az * other.axis[2];
    const v = bx * other.axis[0] + by * other.axis[1] + bz * other.axis[2];
    const across = sine * Math.hypot(u, v);
    const least = other.cosine - cap.cosine * along;
    // Covered where across * cos(angle - middle) > least.
    if (across <= COAXIAL) {
      if (least < -COAXIAL || (Math.abs(least) <= COAXIAL && along > 0 && k < index)) return null;
      continue;
    }
    if (least >= across) continue;
    if (least <= -across) return null;
    const middle = Math.atan2(v, u);
    const half = Math.acos(least / across);
    covered.push([middle - half, middle + half]);
  }
  return covered;
}

/** Complement of arcs on the circle, as [from, to] with to > from. */
export function complement(covered: readonly Arc[]): Arc[] {
  if (covered.length === 0) return [[0, 2 * Math.PI]];
  const turn = 2 * Math.PI;
  const start = covered[0][1];
  const arcs = covered.map(([from, to]): Arc => {
    const shifted = (((from - start) % turn) + turn) % turn;
    return [shifted, shifted + to - from];
  });
  arcs.sort((a, b) => a[0] - b[0]);
  const free: Arc[] = [];
  // Everything is measured from the end of the first arc; arcs that run past a full turn cover the beginning.
  let reached = Math.max(0, ...arcs.map(([, to]) => to - turn));
  for (const [from, to] of arcs) {
    if (from > reached) free.push([start + reached, start + from]);
    reached = Math.max(reached, to);
  }
  if (reached < turn) free.push([start + reached, start + turn]);
  return free.filter(([from, to]) => to - from > 1e-13);
}
