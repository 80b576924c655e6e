import type { StrutGraph } from '../../../worker/engine/lattice/index.ts';

/**
 * Moments (volume, x y z, xx yy zz xy xz yz) of a graph's solid by chords: on each of a grid of lines parallel to z the parts inside frusta and
 * node spheres are united and integrated exactly along the line; across, the midpoint rule. Shares no code or idea with the surface integrals:
 * an interval is found by trying the middles between all places where a line may enter or leave a body. `keep` cuts the solid by a plane.
 */
export interface ChordOptions {
  /** Lines along the longer side of the shadow. */
  readonly lines: number;
  /** Only the part with x . normal >= 0. */
  readonly keep?: readonly [number, number, number];
}

interface Body {
  /** Square distance condition f(z) <= 0 as a quadratic, and, of a frustum, its slab. */
  readonly isInside: (x: number, y: number, z: number) => boolean;
  readonly crossings: (x: number, y: number) => number[];
  readonly reach: number;
  readonly centre: readonly [number, number];
}

export function chordMoments(graph: StrutGraph, { lines, keep }: ChordOptions): Float64Array {
  const bodies = bodiesOf(graph);
  const low = [0, 1].map((i) => Math.min(...bodies.map(({ centre, reach }) => centre[i] - reach)));
  const high = [0, 1].map((i) => Math.max(...bodies.map(({ centre, reach }) => centre[i] + reach)));
  const step = Math.max(high[0] - low[0], high[1] - low[1]) / lines;
  const moments = new Float64Array(10);
  for (let i = 0; low[0] + i * step < high[0]; i++) {
    for (let j = 0; low[1] + j * step < high[1]; j++) {
      const [x, y] = [low[0] + (i + 0.5) * step, low[1] + (j + 0.5) * step];
      for (const [from, to] of united(bodies, x, y)) addChord(x, y, ...cut(from, to, x, y, keep), step * step, moments);
    }
  }
  return moments;
}

function bodiesOf({ xyz, ends, diameters, strutCount, nodeCount, nodeRadius }: StrutGraph): Body[] {
  const bodies: Body[] = [];
  for (let v = 0; v < nodeCount; v++) bodies.push(ball(xyz.subarray(3 * v, 3 * v + 3), nodeRadius[v]));
  for (let s = 0; s < strutCount; s++) {
    const [p, q] = [0, 1].map((end) => xyz.subarray(3 * ends[2 * s + end], 3 * ends[2 * s + end] + 3));
    bodies.push(frustum(p, q, diameters[2 * s] / 2, diameters[2 * s + 1] / 2));
  }
  return bodies;
}

function ball([a, b, c]: Float64Array, r: number): Body {
  return {
    centre: [a, b],
    reach: r,
    isInside: (x, y, z) => (x - a) ** 2 + (y - b) ** 2 + (z - c) ** 2 <= r * r,
    crossings: (x, y) => roots(1, -2 * c, c * c + (x - a) ** 2 + (y - b) ** 2 - r * r),
  };
}

function frustum(p: Float64Array, q: Float64Array, rp: number, rq: number): Body {
  const d = [0, 1, 2].map((i) => q[i] - p[i]);
  const length = Math.hypot(...d);
  const u = d.map((x) => x / length);
  const slope = (rq - rp) / length;
  const along = (x: number, y: number, z: number) => (x - p[0]) * u[0] + (y - p[1]) * u[1] + (z - p[2]) * u[2];
  return {
    centre: [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2],
    reach: Math.hypot(d[0], d[1]) / 2 + Math.max(rp, rq),
    isInside: (x, y, z) => {
      const s = along(x, y, z);
      return s >= 0 && s <= length && (x - p[0]) ** 2 + (y - p[1]) ** 2 + (z - p[2]) ** 2 - s * s <= (rp + slope * s) ** 2;
    },
    crossings: (x, y) => {
      // along = s0 + u2 z; distance squared = z^2 - 2 p2 z + e
      const s0 = along(x, y, 0);
      const e = (x - p[0]) ** 2 + (y - p[1]) ** 2 + p[2] ** 2;
      const k = 1 + slope * slope;
      const onCone = roots(
        1 - k * u[2] ** 2,
        -2 * p[2] - 2 * k * s0 * u[2] - 2 * rp * slope * u[2],
        e - k * s0 * s0 - 2 * rp * slope * s0 - rp * rp,
      );
      return [...onCone, ...(u[2] === 0 ? [] : [-s0 / u[2], (length - s0) / u[2]])];
    },
  };
}

function roots(a: number, b: number, c: number): number[] {
  if (Math.abs(a) < 1e-14) return b === 0 ? [] : [-c / b];
  const discriminant = b * b - 4 * a * c;
  return discriminant <= 0 ? [] : [(-b - Math.sqrt(discriminant)) / (2 * a), (-b + Math.sqrt(discriminant)) / (2 * a)];
}

/** Stretches of the line that lie in any body. */
function united(bodies: readonly Body[], x: number, y: number): [number, number][] {
  const stretches: [number, number][] = [];
  for (const { centre, reach, crossings, isInside } of bodies) {
    if (Math.abs(x - centre[0]) > reach || Math.abs(y - centre[1]) > reach) continue;
    const at = crossings(x, y).sort((a, b) => a - b);
    for (let k = 0; k + 1 < at.length; k++) if (isInside(x, y, (at[k] + at[k + 1]) / 2)) stretches.push([at[k], at[k + 1]]);
  }
  stretches.sort((a, b) => a[0] - b[0]);
  const joined: [number, number][] = [];
  for (const [from, to] of stretches) {
    const last = joined[joined.length - 1];
    if (last && from <= last[1]) last[1] = Math.max(last[1], to);
    else joined.push([from, to]);
  }
  return joined;
}

function cut(from: number, to: number, x: number, y: number, keep?: ChordOptions['keep']): [number, number] {
  if (!keep) return [from, to];
  const level = -(keep[0] * x + keep[1] * y) / keep[2];
  return keep[2] > 0 ? [Math.max(from, Math.min(level, to)), to] : [from, Math.min(to, Math.max(level, from))];
}

function addChord(x: number, y: number, from: number, to: number, area: number, out: Float64Array): void {
  const length = area * (to - from);
  const first = (area * (to * to - from * from)) / 2;
  const second = (area * (to ** 3 - from ** 3)) / 3;
  [length, x * length, y * length, first, x * x * length, y * y * length, second, x * y * length, x * first, y * first].forEach(
    (value, k) => {
      out[k] += value;
    },
  );
}
