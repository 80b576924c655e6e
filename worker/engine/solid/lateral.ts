import { makeBreakFinder } from './breaks.ts';
import { type Cover, makeExposure } from './cover.ts';
import { AXIS, type Frames, LENGTH, RADIUS, SIDE1, SIDE2, SLOPE, STRIDE } from './frames.ts';
import { MOMENTS, type Moments, makeMoments } from './moments.ts';
import { GAUSS_WEIGHT, KRONROD_WEIGHT, NODE, POINTS } from './quadrature.ts';

/** Widest piece handed to the quadrature at once, radians. */
const WIDEST = 1.6;
/** Estimated error of a piece, relative to the strut's whole flux, above which it is halved, at most so often. */
const TOLERANCE = 1e-9;
const DEEPEST = 12;

/**
 * Adds the exposed lateral surface of one strut, its covering bodies being in the cover already, to the moments of the solid it bounds; with a
 * plane, only the part on the positive side of the plane through the origin with that unit normal. `kinks`: angles at which to break besides.
 */
export type AddLateral = (strut: number, out: Moments, kinks: readonly number[], normal?: readonly [number, number, number]) => void;

/**
 * What is integrated over the exposed surface: `solid` the moments of the solid it bounds, `growth` those of the thin layer, per mm, by which the solid
 * grows when the strut's radius does (Hadamard's formula): along the normal that is 1 / sqrt(1 + slope^2), which leaves r dt dphi of the area.
 */
export type Measure = 'solid' | 'growth';

/**
 * Divergence theorem: volume = 1/3 of the flux of x, first moments = 1/4 of the flux of x x_k, second = 1/5 of the flux of x x_k x_l. Along a
 * generator line x . n is constant and the rest are polynomials in t, so only the angle phi is integrated numerically. Between the angles
 * where the pattern of exposed stretches changes the integrand is smooth, up to square-root ends, and Gauss-Kronrod converges to rounding.
 */
export function makeLateral({ data }: Frames, cover: Cover, measure: Measure): AddLateral {
  const growth = measure === 'growth';
  // Degree of the flux whose divergence is the integrand.
  const degree = growth ? [1, 1, 1] : [3, 4, 5];
  const exposure = makeExposure();
  const findBreaks = makeBreakFinder(cover);
  const pieces = Array.from({ length: DEEPEST + 1 }, makeMoments);
  const total = makeMoments();
  let at = 0;
  // Radius, slope, the strut's start along its own axis and sides, and the flux scale (a typed array: numbers in closures are boxed).
  const own = new Float64Array(6);

  function addLateral(strut: number, out: Moments, kinks: readonly number[], normal?: readonly [number, number, number]): void {
    begin(strut);
    total.fill(0);
    let breaks = findBreaks();
    if (normal) {
      // The plane may cut off all but the corner where two bodies meet, or peep out at its own turning points: both are looked at.
      const corners = [...breaks];
      const turn = cover.addHalfSpace(...normal);
      breaks = findBreaks([...corners, turn, turn + Math.PI]);
    }
    if (kinks.length > 0) breaks = [...breaks, ...kinks.map((angle) => (angle + 4 * Math.PI) % (2 * Math.PI))].sort((a, b) => a - b);
    for (let k = 0; k < Math.max(1, breaks.length); k++) {
      const from = breaks[k] ?? 0;
      const to = k + 1 < breaks.length ? breaks[k + 1] : (breaks[0] ?? 0) + 2 * Math.PI;
      const parts = Math.ceil((to - from) / WIDEST);
      for (let p = 0; p < parts; p++) addPiece(from + ((to - from) * p) / parts, from + ((to - from) * (p + 1)) / parts, 0, total);
    }
    finish(total, out);
  }

  function begin(strut: number): void {
    at = STRIDE * strut;
    const radius = data[at + RADIUS];
    const slope = data[at + SLOPE];
    const along = (part: number) => data[at] * data[at + part] + data[at + 1] * data[at + part + 1] + data[at + 2] * data[at + part + 2];
    const widest = Math.max(radius, radius + slope * data[at + LENGTH]);
    const reach = growth ? 1 : widest + Math.hypot(data[at], data[at + 1], data[at + 2]);
    const flux = 2 * Math.PI * widest * data[at + LENGTH] * reach;
    own.set([radius, slope, along(AXIS), along(SIDE1), along(SIDE2), flux]);
  }

  /** Gauss-Kronrod on one piece; halves it while the estimate (QUADPACK's, from the difference of the two rules) is too large. */
  function addPiece(a: number, b: number, depth: number, out: Float64Array): void {
    const sums = pieces[depth].fill(0);
    const half = (b - a) / 2;
    let gauss = 0;
    for (let k = 0; k < POINTS; k++) {
      const angle = a + half + half * NODE[k];
      const before = sums[0];
      addLine(Math.cos(angle), Math.sin(angle), half * KRONROD_WEIGHT[k], sums);
      gauss += ((sums[0] - before) * GAUSS_WEIGHT[k]) / KRONROD_WEIGHT[k];
    }
    const error = (200 * Math.abs(sums[0] - gauss)) / own[5];
    if (error * Math.sqrt(error) > TOLERANCE && depth < DEEPEST) {
      addPiece(a, a + half, depth + 1, out);
      addPiece(a + half, b, depth + 1, out);
    } else {
      for (let k = 0; k < MOMENTS; k++) out[k] += sums[k];
    }
  }

  /**
   * Adds weight times the integrand at one angle to ten sums. With x(t) = P + t u + r(t) e(phi), n dA = (e - slope u) r dt dphi and support =
   * x . (e - slope u), which t does not change, they are the integrals of support times r {1, t, t^2}, r r {c, s}, r r t {c, s} and
   * r r r {cc, cs, ss} over the exposed stretches, where e = c e1 + s e2.
   */
  function addLine(cosine: number, sine: number, weight: number, sums: Float64Array): void {
    cover.expose(cosine, sine, exposure);
    const radius = own[0];
    const slope = own[1];
    let i0 = 0;
    let i1 = 0;
    let i2 = 0;
    for (let k = 0; k < exposure.count; k++) {
      const f = exposure.from[k];
      const t = exposure.to[k];
      const f2 = f * f;
      const t2 = t * t;
      const square = (t2 - f2) / 2;
      const cube = (t2 * t - f2 * f) / 3;
      i0 += radius * (t - f) + slope * square;
      i1 += radius * square + slope * cube;
      i2 += radius * cube + (slope * (t2 * t2 - f2 * f2)) / 4;
    }
    const v = growth ? weight : weight * (own[3] * cosine + own[4] * sine + radius - slope * own[2]);
    const e0 = v * (radius * i0 + slope * i1);
    const e1 = v * (radius * i1 + slope * i2);
    const ee = v * (radius * radius * i0 + 2 * radius * slope * i1 + slope * slope * i2);
    sums[0] += v * i0;
    sums[1] += v * i1;
    sums[2] += v * i2;
    sums[3] += e0 * cosine;
    sums[4] += e0 * sine;
    sums[5] += e1 * cosine;
    sums[6] += e1 * sine;
    sums[7] += ee * cosine * cosine;
    sums[8] += ee * cosine * sine;
    sums[9] += ee * sine * sine;
  }

  /** Turns the ten sums into moments along x, y and z. */
  function finish(sums: Float64Array, out: Moments): void {
    const [P, u, a, b] = [0, AXIS, SIDE1, SIDE2].map((part) => data.subarray(at + part, at + part + 3));
    const [i0, i1, i2, c0, s0, c1, s1, cc, cs, ss] = sums;
    const second = (i: number, j: number) => {
      const both = (p: Float64Array, q: Float64Array) => p[i] * q[j] + p[j] * q[i];
      const axial = P[i] * P[j] * i0 + both(P, u) * i1 + u[i] * u[j] * i2;
      const mixed = both(P, a) * c0 + both(P, b) * s0 + both(u, a) * c1 + both(u, b) * s1;
      return (axial + mixed + a[i] * a[j] * cc + both(a, b) * cs + b[i] * b[j] * ss) / degree[2];
    };
    out[0] += i0 / degree[0];
    for (let i = 0; i < 3; i++) {
      out[1 + i] += (P[i] * i0 + u[i] * i1 + a[i] * c0 + b[i] * s0) / degree[1];
      out[4 + i] += second(i, i);
    }
    out[7] += second(0, 1);
    out[8] += second(0, 2);
    out[9] += second(1, 2);
  }

  return addLateral;
}
