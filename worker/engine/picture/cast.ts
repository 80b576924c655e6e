import type { StrutGraph } from '../lattice/index.ts';
import type { Camera } from './camera.ts';

/** What is seen in each point of a raster: body (strut, or -1 - node; NOTHING), depth towards the eye (mm), and how directly its surface faces the eye. */
export interface Seen {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly body: Int32Array;
  readonly depthMm: Float32Array;
  /** Cosine between the surface's normal and the way to the eye; CUT_FACE where the part was cut. */
  readonly facing: Float32Array;
  /** The same for the normal's share to the right and up, in turn. */
  readonly lean: Float32Array;
}
export const NOTHING = -0x80000000;
export const CUT_FACE = 2;

export interface Casting {
  readonly camera: Camera;
  /** Middle of the picture, and what a point of the raster is wide, mm. */
  readonly middle: readonly number[];
  readonly pixelMm: number;
  readonly widthPx: number;
  readonly heightPx: number;
  /** What lies nearer to the eye than the middle is taken away. */
  readonly cut: boolean;
}

/**
 * Casts a parallel ray through every point of a raster, exactly: each frustum and ball, both convex, covers one interval of a ray, found in closed form
 * where the body's shadow falls; what is nearest to the eye is seen.
 */
export function cast(graph: StrutGraph, { camera, middle, pixelMm, widthPx, heightPx, cut }: Casting): Seen {
  const size = widthPx * heightPx;
  const seen: Seen = {
    widthPx,
    heightPx,
    body: new Int32Array(size).fill(NOTHING),
    depthMm: new Float32Array(size).fill(Number.NEGATIVE_INFINITY),
    facing: new Float32Array(size),
    lean: new Float32Array(2 * size),
  };
  const places = new Float64Array(3 * graph.nodeCount);
  for (let v = 0; v < graph.nodeCount; v++) {
    const x = [0, 1, 2].map((k) => graph.xyz[3 * v + k] - middle[k]);
    [camera.right, camera.up, camera.toEye].forEach((axis, k) => (places[3 * v + k] = x[0] * axis[0] + x[1] * axis[1] + x[2] * axis[2]));
  }
  const hit = new Float64Array(5);

  /**
   * Looks at every point of the raster in a box, mm from the middle, and keeps what is nearest. `spanAt` gives the part of a row to look at.
   */
  function draw(
    body: number,
    [left, bottom, right, top]: readonly number[],
    meet: (x: number, y: number) => boolean,
    spanAt: (y: number) => readonly [number, number] = () => [left, right],
  ): void {
    const column = (x: number) => x / pixelMm + widthPx / 2 - 0.5;
    const row = (y: number) => heightPx / 2 - 0.5 - y / pixelMm;
    const [j0, j1] = [Math.max(0, Math.ceil(row(top))), Math.min(heightPx - 1, Math.floor(row(bottom)))];
    for (let j = j0; j <= j1; j++) {
      const y = (heightPx / 2 - 0.5 - j) * pixelMm;
      const [from, to] = spanAt(y);
      const i0 = Math.max(0, Math.ceil(column(Math.max(left, from))));
      const i1 = Math.min(widthPx - 1, Math.floor(column(Math.min(right, to))));
      for (let i = i0; i <= i1; i++) {
        const x = (i + 0.5 - widthPx / 2) * pixelMm;
        if (!meet(x, y)) continue;
        const at = j * widthPx + i;
        const opened = cut && hit[0] > 0;
        if (opened && hit[1] > 0) continue;
        const depth = opened ? 0 : hit[0];
        if (depth < seen.depthMm[at]) continue;
        seen.depthMm[at] = depth;
        seen.body[at] = body;
        seen.facing[at] = opened ? CUT_FACE : hit[4];
        seen.lean[2 * at] = hit[2];
        seen.lean[2 * at + 1] = hit[3];
      }
    }
  }

  for (let v = 0; v < graph.nodeCount; v++) {
    const [x0, y0, z0] = places.subarray(3 * v, 3 * v + 3);
    const r = graph.nodeRadius[v];
    draw(-1 - v, [x0 - r, y0 - r, x0 + r, y0 + r], (x, y) => meetBall(x - x0, y - y0, z0, r, hit));
  }
  for (let k = 0; k < graph.strutCount; k++) {
    const [p, q] = [0, 1].map((end) => places.subarray(3 * graph.ends[2 * k + end], 3 * graph.ends[2 * k + end] + 3));
    const [r, s] = [graph.diameters[2 * k] / 2, graph.diameters[2 * k + 1] / 2];
    const box = [0, 1].map((i) => Math.min(p[i] - r, q[i] - s)).concat([0, 1].map((i) => Math.max(p[i] + r, q[i] + s)));
    draw(k, box, frustum(p, q, r, s, hit), shadow(p, q, Math.max(r, s)));
  }
  return seen;
}

/** Where a row crosses the strip, twice as wide as a radius, round the line through two places. */
function shadow(p: ArrayLike<number>, q: ArrayLike<number>, radius: number): (y: number) => readonly [number, number] {
  const rise = q[1] - p[1];
  const length = Math.hypot(q[0] - p[0], rise);
  if (Math.abs(rise) < 1e-9 * length || length === 0) return () => [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  const [run, half] = [(q[0] - p[0]) / rise, (radius * length) / Math.abs(rise)];
  return (y) => {
    const middle = p[0] + (y - p[1]) * run;
    return [middle - half, middle + half];
  };
}

/** Sets `hit` to the depths at which a ray enters and leaves a ball, and the normal where it enters; false: it passes by. */
function meetBall(x: number, y: number, z0: number, r: number, hit: Float64Array): boolean {
  const square = r * r - x * x - y * y;
  if (square <= 0) return false;
  const half = Math.sqrt(square);
  hit[0] = z0 + half;
  hit[1] = z0 - half;
  hit[2] = x / r;
  hit[3] = y / r;
  hit[4] = half / r;
  return true;
}

/** The same of a frustum between two places with these radii. Its end discs lie inside the spheres of its nodes, so their normals do not matter. */
function frustum(p: ArrayLike<number>, q: ArrayLike<number>, r: number, s: number, hit: Float64Array): (x: number, y: number) => boolean {
  const d = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
  const length = Math.hypot(d[0], d[1], d[2]);
  const [ux, uy, uz] = d.map((each) => each / length);
  const slope = (s - r) / length;
  // On the ray (x, y, z): along = g + uz z from the start, inside where |.|^2 - along^2 <= (r + slope along)^2.
  const a = 1 - uz * uz * (1 + slope * slope);
  return (px, py) => {
    const [x, y] = [px - p[0], py - p[1]];
    const g = x * ux + y * uy;
    const reach = r + slope * g;
    const b = -uz * (g + slope * reach);
    const c = x * x + y * y - g * g - reach * reach;
    let [low, high] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
    if (a > 1e-12) {
      const root = b * b - a * c;
      if (root <= 0) return false;
      const half = Math.sqrt(root);
      low = (-b - half) / a;
      high = (-b + half) / a;
    } else if (c > 0) return false;
    if (Math.abs(uz) > 1e-12) {
      const [m, n] = [-g / uz, (length - g) / uz];
      low = Math.max(low, Math.min(m, n));
      high = Math.min(high, Math.max(m, n));
    } else if (g < 0 || g > length) return false;
    if (low >= high) return false;
    const along = g + uz * high;
    const width = r + slope * along;
    const lean = Math.hypot(1, slope);
    hit[0] = p[2] + high;
    hit[1] = p[2] + low;
    hit[2] = ((x - along * ux) / width - slope * ux) / lean;
    hit[3] = ((y - along * uy) / width - slope * uy) / lean;
    hit[4] = ((high - along * uz) / width - slope * uz) / lean;
    return true;
  };
}
