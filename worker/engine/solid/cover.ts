import { AXIS, type Frames, LENGTH, RADIUS, SIDE1, SIDE2, SLOPE, START, STRIDE } from './frames.ts';

/** Exposed stretches [from, to] along a generator line and what ends each: see `Cover.limit` for the codes. */
export interface Exposure {
  count: number;
  readonly from: Float64Array;
  readonly to: Float64Array;
  readonly fromCode: Int32Array;
  readonly toCode: Int32Array;
}
export const makeExposure = (size = 64): Exposure => ({
  count: 0,
  from: new Float64Array(size),
  to: new Float64Array(size),
  fromCode: new Int32Array(size),
  toCode: new Int32Array(size),
});

/**
 * The bodies that can cover one strut's lateral surface, prepared so that a generator line x(t) = P + t u + (r + slope t) e(phi), 0 <= t <= L,
 * meets each in a few operations. All are convex (frustum, ball, half-space), so each covers one interval of the line.
 */
export interface Cover {
  /** Empties the list and takes the strut whose surface is looked at. */
  begin(strut: number): void;
  addStrut(strut: number): void;
  addNode(node: number): void;
  /** The half-space on the negative side of a plane through the origin with this unit normal. */
  addHalfSpace(nx: number, ny: number, nz: number): void;
  /** Exposed stretches of the line at cos(phi), sin(phi), ascending. */
  expose(cosine: number, sine: number, out: Exposure): void;
  /** Where the line enters (code 2 * body) or leaves (2 * body + 1) a body, within [0, L]; the strut's own ends have the codes below; NaN when missed. */
  limit(code: number, cosine: number, sine: number): number;
}
export const AT_START = -1;
export const AT_END = -2;

const [FRUSTUM, BALL, HALF_SPACE] = [0, 1, 2];
/** Numbers per body: kind, then products of its frame with the strut's. */
const BODY = 12;
const [KIND, DU, UU, E1U, E2U, DD, DE1, DE2, DW, R, K, LEN] = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11];
/** Stretches shorter than this share of the strut are rounding. */
const NOTHING = 1e-12;

export function makeCover({ data, nodes, nodeRadius }: Frames): Cover {
  let bodies = new Float64Array(BODY * 64);
  let lows = new Float64Array(64);
  let highs = new Float64Array(64);
  let order = new Int32Array(64);
  let count = 0;
  let at = 0;
  let [radius, slope, length] = [0, 0, 0];
  let [low, high] = [0, 0];

  function begin(strut: number): void {
    at = STRIDE * strut;
    [radius, slope, length] = [data[at + RADIUS], data[at + SLOPE], data[at + LENGTH]];
    count = 0;
  }

  function dotWith(x: number, y: number, z: number, part: number): number {
    return x * data[at + part] + y * data[at + part + 1] + z * data[at + part + 2];
  }

  /** Appends a body seen from the strut's start at offset (dx, dy, dz) with axis (ux, uy, uz). */
  function add(kind: number, dx: number, dy: number, dz: number, ux: number, uy: number, uz: number): number {
    if (BODY * (count + 1) > bodies.length) grow();
    const b = BODY * count++;
    bodies[b + KIND] = kind;
    bodies[b + DU] = dx * ux + dy * uy + dz * uz;
    bodies[b + UU] = dotWith(ux, uy, uz, AXIS);
    bodies[b + E1U] = dotWith(ux, uy, uz, SIDE1);
    bodies[b + E2U] = dotWith(ux, uy, uz, SIDE2);
    bodies[b + DD] = dx * dx + dy * dy + dz * dz;
    bodies[b + DE1] = dotWith(dx, dy, dz, SIDE1);
    bodies[b + DE2] = dotWith(dx, dy, dz, SIDE2);
    bodies[b + DW] = dotWith(dx, dy, dz, AXIS);
    return b;
  }

  function grow(): void {
    const larger = new Float64Array(2 * bodies.length);
    larger.set(bodies);
    bodies = larger;
    lows = new Float64Array(2 * lows.length);
    highs = new Float64Array(lows.length);
    order = new Int32Array(lows.length);
  }

  function addStrut(strut: number): void {
    const j = STRIDE * strut;
    const [dx, dy, dz] = [data[at] - data[j], data[at + 1] - data[j + 1], data[at + 2] - data[j + 2]];
    const b = add(FRUSTUM, dx, dy, dz, data[j + AXIS], data[j + AXIS + 1], data[j + AXIS + 2]);
    bodies[b + R] = data[j + RADIUS];
    bodies[b + K] = data[j + SLOPE];
    bodies[b + LEN] = data[j + LENGTH];
  }

  function addNode(node: number): void {
    const [dx, dy, dz] = [data[at + START] - nodes[3 * node], data[at + 1] - nodes[3 * node + 1], data[at + 2] - nodes[3 * node + 2]];
    bodies[add(BALL, dx, dy, dz, 0, 0, 0) + R] = nodeRadius[node];
  }

  function addHalfSpace(nx: number, ny: number, nz: number): void {
    add(HALF_SPACE, data[at + START], data[at + START + 1], data[at + START + 2], nx, ny, nz);
  }

  /** Sets [low, high] to the part of [0, L] that body b covers; low > high when none. */
  function interval(b: number, cosine: number, sine: number): void {
    const kind = bodies[b + KIND];
    const eu = bodies[b + E1U] * cosine + bodies[b + E2U] * sine;
    const s0 = bodies[b + DU] + radius * eu;
    const s1 = bodies[b + UU] + slope * eu;
    [low, high] = [0, length];
    if (kind === HALF_SPACE) {
      below(s0, s1);
      return;
    }
    const de = bodies[b + DE1] * cosine + bodies[b + DE2] * sine;
    const dd = bodies[b + DD] + 2 * radius * de + radius * radius;
    const dw = bodies[b + DW] + slope * de + radius * slope;
    const ww = 1 + slope * slope;
    if (kind === BALL) {
      between(ww, dw, dd - bodies[b + R] * bodies[b + R]);
      return;
    }
    // First the slab between the end discs, 0 <= s0 + t s1 <= length, then the cone |d + t w|^2 - s^2 <= (r + k s)^2.
    below(-s0, -s1);
    below(s0 - bodies[b + LEN], s1);
    const r = bodies[b + R] + bodies[b + K] * s0;
    const rs = bodies[b + K] * s1;
    between(ww - s1 * s1 - rs * rs, dw - s0 * s1 - r * rs, dd - s0 * s0 - r * r);
  }

  /** Keeps the t with a + b t <= 0. */
  function below(a: number, b: number): void {
    if (b > 0) high = Math.min(high, -a / b);
    else if (b < 0) low = Math.max(low, -a / b);
    else if (a > 0) high = Number.NEGATIVE_INFINITY;
  }

  /** Keeps the t with a t^2 + 2 b t + c <= 0, known to form one interval within [low, high]. */
  function between(a: number, b: number, c: number): void {
    if (!(low < high)) return;
    if (Math.abs(a) < 1e-14) {
      below(c, 2 * b);
      return;
    }
    const discriminant = b * b - a * c;
    if (discriminant <= 0) {
      if (a > 0) high = Number.NEGATIVE_INFINITY;
      return;
    }
    const q = b < 0 ? -b + Math.sqrt(discriminant) : -b - Math.sqrt(discriminant);
    const [r1, r2] = q / a < c / q ? [q / a, c / q] : [c / q, q / a];
    if (a > 0) {
      low = Math.max(low, r1);
      high = Math.min(high, r2);
    } else if ((a * low + 2 * b) * low + c <= 0) {
      // Steeper than the cone: inside before the first root or after the second, whichever the slab holds.
      if (r1 > low) high = Math.min(high, r1);
    } else {
      low = Math.max(low, r2);
    }
  }

  function expose(cosine: number, sine: number, out: Exposure): void {
    let met = 0;
    for (let body = 0; body < count; body++) {
      interval(BODY * body, cosine, sine);
      if (!(low < high)) continue;
      lows[body] = low;
      highs[body] = high;
      let place = met++;
      for (; place > 0 && lows[order[place - 1]] > low; place--) order[place] = order[place - 1];
      order[place] = body;
    }
    sweep(met, out);
  }

  /** Complement of the sorted covered intervals in [0, L]. */
  function sweep(met: number, out: Exposure): void {
    let reached = 0;
    let code = AT_START;
    out.count = 0;
    for (let k = 0; k < met; k++) {
      const body = order[k];
      if (lows[body] > reached + NOTHING * length) emit(out, reached, code, lows[body], 2 * body);
      if (highs[body] > reached) [reached, code] = [highs[body], 2 * body + 1];
    }
    if (length > reached + NOTHING * length) emit(out, reached, code, length, AT_END);
  }

  function emit(out: Exposure, from: number, fromCode: number, to: number, toCode: number): void {
    const k = Math.min(out.count++, out.from.length - 1);
    out.from[k] = from;
    out.to[k] = to;
    out.fromCode[k] = fromCode;
    out.toCode[k] = toCode;
  }

  function limit(code: number, cosine: number, sine: number): number {
    if (code === AT_START) return 0;
    if (code === AT_END) return length;
    interval(BODY * (code >> 1), cosine, sine);
    if (!(low < high)) return Number.NaN;
    return code & 1 ? high : low;
  }

  return { begin, addStrut, addNode, addHalfSpace, expose, limit };
}
