import { makeBreakFinder } from './breaks.ts';
import { type Cover, makeExposure } from './cover.ts';
import { AXIS, type Frames, LENGTH, RADIUS, SIDE1, SIDE2, SLOPE, STRIDE } from './frames.ts';
import { MOMENTS, type Moments, makeMoments } from './moments.ts';
import { GAUSS_WEIGHT, KRONROD_WEIGHT, NODE, POINTS } from './quadrature.ts';

/** Widest piece handed to the quadrature at once, radians. */
const WIDEST = 1.3;
/** Estimated error of a piece, relative to the strut's whole flux, above which it is halved, at most so often. */
const TOLERANCE = 1e-11;
const DEEPEST = 12;

/** Adds the exposed lateral surface of one strut, its covering bodies being in the cover already, to the moments of the solid it bounds. */
export type AddLateral = (strut: number, out: Moments) => void;

/**
 * Divergence theorem: volume = 1/3 of the flux of x, first moments = 1/4 of the flux of x x_k, second = 1/5 of the flux of x x_k x_l. Along a
 * generator line x . n is constant and the rest are polynomials in t, so only the angle phi is integrated numerically. Between the angles
 * where the pattern of exposed stretches changes the integrand is smooth, up to square-root ends, and Gauss-Kronrod converges to rounding.
 */
export function makeLateral({ data }: Frames, cover: Cover): AddLateral {
  const exposure = makeExposure();
  const findBreaks = makeBreakFinder(cover);
  const pieces = Array.from({ length: DEEPEST + 1 }, makeMoments);
  let at = 0;
  let flux = 1;

  function addLateral(strut: number, out: Moments): void {
    at = STRIDE * strut;
    const radius = Math.max(data[at + RADIUS], data[at + RADIUS] + data[at + SLOPE] * data[at + LENGTH]);
    flux = 2 * Math.PI * radius * data[at + LENGTH] * (radius + Math.hypot(data[at], data[at + 1], data[at + 2]));
    const breaks = findBreaks();
    for (let k = 0; k < Math.max(1, breaks.length); k++) {
      const from = breaks[k] ?? 0;
      const to = k + 1 < breaks.length ? breaks[k + 1] : (breaks[0] ?? 0) + 2 * Math.PI;
      const parts = Math.ceil((to - from) / WIDEST);
      for (let p = 0; p < parts; p++) addPiece(from + ((to - from) * p) / parts, from + ((to - from) * (p + 1)) / parts, 0, out);
    }
  }

  /** Gauss-Kronrod on one piece; halves it while the estimate (QUADPACK's, from the difference of the two rules) is too large. */
  function addPiece(a: number, b: number, depth: number, out: Moments): void {
    const sums = pieces[depth].fill(0);
    const half = (b - a) / 2;
    let gauss = 0;
    for (let k = 0; k < POINTS; k++) {
      const angle = a + half + half * NODE[k];
      const before = sums[0];
      addLine(Math.cos(angle), Math.sin(angle), half * KRONROD_WEIGHT[k], sums);
      gauss += ((sums[0] - before) * GAUSS_WEIGHT[k]) / KRONROD_WEIGHT[k];
    }
    const error = (200 * Math.abs(sums[0] - gauss)) / flux;
    if (error * Math.sqrt(error) > TOLERANCE && depth < DEEPEST) {
      addPiece(a, a + half, depth + 1, out);
      addPiece(a + half, b, depth + 1, out);
    } else {
      for (let k = 0; k < MOMENTS; k++) out[k] += sums[k];
    }
  }

  /** Adds weight times the integrand at one angle. */
  function addLine(cosine: number, sine: number, weight: number, out: Moments): void {
    cover.expose(cosine, sine, exposure);
    if (exposure.count === 0) return;
    const [radius, slope] = [data[at + RADIUS], data[at + SLOPE]];
    const ex = data[at + SIDE1] * cosine + data[at + SIDE2] * sine;
    const ey = data[at + SIDE1 + 1] * cosine + data[at + SIDE2 + 1] * sine;
    const ez = data[at + SIDE1 + 2] * cosine + data[at + SIDE2 + 2] * sine;
    const [ux, uy, uz] = [data[at + AXIS], data[at + AXIS + 1], data[at + AXIS + 2]];
    // x(t) = o + t w with o = P + r e, w = u + slope e; n dA = (e - slope u) r(t) dt dphi, to which w is at right angles.
    const [ox, oy, oz] = [data[at] + radius * ex, data[at + 1] + radius * ey, data[at + 2] + radius * ez];
    const [wx, wy, wz] = [ux + slope * ex, uy + slope * ey, uz + slope * ez];
    const support = ox * (ex - slope * ux) + oy * (ey - slope * uy) + oz * (ez - slope * uz);
    let [i0, i1, i2] = [0, 0, 0];
    for (let k = 0; k < exposure.count; k++) {
      const [f, t] = [exposure.from[k], exposure.to[k]];
      const [f2, t2] = [f * f, t * t];
      const [c, d, e] = [(t2 - f2) / 2, (t2 * t - f2 * f) / 3, (t2 * t2 - f2 * f2) / 4];
      i0 += radius * (t - f) + slope * c;
      i1 += radius * c + slope * d;
      i2 += radius * d + slope * e;
    }
    const v = weight * support;
    out[0] += (v * i0) / 3;
    out[1] += (v * (ox * i0 + wx * i1)) / 4;
    out[2] += (v * (oy * i0 + wy * i1)) / 4;
    out[3] += (v * (oz * i0 + wz * i1)) / 4;
    out[4] += (v * (ox * ox * i0 + 2 * ox * wx * i1 + wx * wx * i2)) / 5;
    out[5] += (v * (oy * oy * i0 + 2 * oy * wy * i1 + wy * wy * i2)) / 5;
    out[6] += (v * (oz * oz * i0 + 2 * oz * wz * i1 + wz * wz * i2)) / 5;
    out[7] += (v * (ox * oy * i0 + (ox * wy + oy * wx) * i1 + wx * wy * i2)) / 5;
    out[8] += (v * (ox * oz * i0 + (ox * wz + oz * wx) * i1 + wx * wz * i2)) / 5;
    out[9] += (v * (oy * oz * i0 + (oy * wz + oz * wy) * i1 + wy * wz * i2)) / 5;
  }

  return addLateral;
}
