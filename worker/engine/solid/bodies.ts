import { AXIS, type Frames, LENGTH, RADIUS, SIDE1, SIDE2, SLOPE, START, STRIDE } from './frames.ts';

/**
 * The bodies that can cover one strut's lateral surface, prepared so that a generator line x(t) = P + t u + (r + slope t) e(phi), 0 <= t <= L,
 * meets each in a few operations. All are convex (frustum, ball, half-space), so each covers one interval of the line.
 */
export interface Bodies {
  /** Empties the list and takes the strut whose surface is looked at. */
  begin(strut: number): void;
  /** Returns the angle at which its axis leans. Of two struts whose surfaces coincide the one with the lower index keeps the surface. */
  addStrut(strut: number): number;
  addNode(node: number): void;
  /** The half-space on the negative side of a plane through the origin with this unit normal; returns the angle at which it reaches furthest or least far. */
  addHalfSpace(nx: number, ny: number, nz: number): number;
  count(): number;
  /** Length of the strut, mm. */
  length(): number;
  /**
   * Sets `range` to the part of [0, L] that a body covers on the line at this angle, empty when the first is not below the second. Returns the
   * discriminant: positive where the line crosses the body's (endless) cone or the ball, zero where it grazes it.
   */
  interval(body: number, cosine: number, sine: number, range: Float64Array): number;
  /** Positive where the point at t on the line lies outside all bodies (no length: only its sign and continuity count). */
  clearance(cosine: number, sine: number, t: number): number;
}

const FRUSTUM = 0;
const BALL = 1;
const HALF_SPACE = 2;
/** A strut whose surface coincides with the one looked at, and that keeps it: all between its end discs is covered. */
const SLAB = 3;
/**
 * Numbers per body: kind, length, radius at its start and slope; then with d = P - (its start), a = its axis and the strut's axis u, sides e1
 * and e2: d.a, e1.a, e2.a, u.a, d.d, e1.d, e2.d, u.d.
 */
const BODY = 12;
const KIND = 0;
const LEN = 1;
const R = 2;
const K = 3;
const DA = 4;
const E1A = 5;
const E2A = 6;
const UA = 7;
const DD = 8;
const E1D = 9;
const E2D = 10;
const UD = 11;

/** Relative closeness at which two surfaces count as one. */
const SAME = 1e-9;

export function makeBodies({ data, nodes, nodeRadius }: Frames): Bodies {
  let bodies = new Float64Array(BODY * 64);
  let count = 0;
  let at = 0;
  // Numbers that change live in typed arrays: a closure's own would be boxed at every assignment.
  const line = new Float64Array(3);

  function begin(strut: number): void {
    at = STRIDE * strut;
    line[0] = data[at + RADIUS];
    line[1] = data[at + SLOPE];
    line[2] = data[at + LENGTH];
    count = 0;
  }

  function dotWith(x: number, y: number, z: number, part: number): number {
    return x * data[at + part] + y * data[at + part + 1] + z * data[at + part + 2];
  }

  /** Appends a body seen from the strut's start at offset (dx, dy, dz) with axis (ax, ay, az). */
  function add(kind: number, dx: number, dy: number, dz: number, ax: number, ay: number, az: number): number {
    if (BODY * (count + 1) > bodies.length) grow();
    const b = BODY * count++;
    bodies[b + KIND] = kind;
    bodies[b + DA] = dx * ax + dy * ay + dz * az;
    bodies[b + E1A] = dotWith(ax, ay, az, SIDE1);
    bodies[b + E2A] = dotWith(ax, ay, az, SIDE2);
    bodies[b + UA] = dotWith(ax, ay, az, AXIS);
    bodies[b + DD] = dx * dx + dy * dy + dz * dz;
    bodies[b + E1D] = dotWith(dx, dy, dz, SIDE1);
    bodies[b + E2D] = dotWith(dx, dy, dz, SIDE2);
    bodies[b + UD] = dotWith(dx, dy, dz, AXIS);
    bodies[b + R] = 0;
    bodies[b + K] = 0;
    return b;
  }

  function grow(): void {
    const larger = new Float64Array(2 * bodies.length);
    larger.set(bodies);
    bodies = larger;
  }

  function addStrut(other: number): number {
    const j = STRIDE * other;
    const [dx, dy, dz] = [data[at] - data[j], data[at + 1] - data[j + 1], data[at + 2] - data[j + 2]];
    const coincides = isCoincident(dx, dy, dz, j);
    if (coincides && STRIDE * other > at) return 0;
    const b = add(coincides ? SLAB : FRUSTUM, dx, dy, dz, data[j + AXIS], data[j + AXIS + 1], data[j + AXIS + 2]);
    bodies[b + R] = data[j + RADIUS];
    bodies[b + K] = data[j + SLOPE];
    bodies[b + LEN] = data[j + LENGTH];
    return Math.atan2(bodies[b + E2A], bodies[b + E1A]);
  }

  /** Same axis line, same cone: rounding, not geometry, would say which covers which. */
  function isCoincident(dx: number, dy: number, dz: number, j: number): boolean {
    const cosine = dotWith(data[j + AXIS], data[j + AXIS + 1], data[j + AXIS + 2], AXIS);
    const sign = Math.sign(cosine);
    const along = dx * data[j + AXIS] + dy * data[j + AXIS + 1] + dz * data[j + AXIS + 2];
    const limit = SAME * line[0];
    return (
      1 - Math.abs(cosine) < SAME * SAME &&
      Math.abs(dx * dx + dy * dy + dz * dz - along * along) < limit * limit &&
      Math.abs(data[j + RADIUS] + data[j + SLOPE] * along - line[0]) < limit &&
      Math.abs(sign * data[j + SLOPE] - line[1]) < SAME
    );
  }

  function addNode(node: number): void {
    const [dx, dy, dz] = [data[at + START] - nodes[3 * node], data[at + 1] - nodes[3 * node + 1], data[at + 2] - nodes[3 * node + 2]];
    bodies[add(BALL, dx, dy, dz, 0, 0, 0) + R] = nodeRadius[node];
  }

  function addHalfSpace(nx: number, ny: number, nz: number): number {
    const b = add(HALF_SPACE, data[at + START], data[at + START + 1], data[at + START + 2], nx, ny, nz);
    return Math.atan2(bodies[b + E2A], bodies[b + E1A]);
  }

  /**
   * On the line the position along the body's axis is s + v t, and it is inside where qa t^2 + 2 qb t + qc <= 0.
   */
  function interval(body: number, cosine: number, sine: number, range: Float64Array): number {
    const b = BODY * body;
    const radius = line[0];
    const slope = line[1];
    const ea = bodies[b + E1A] * cosine + bodies[b + E2A] * sine;
    const ed = bodies[b + E1D] * cosine + bodies[b + E2D] * sine;
    const k = bodies[b + K];
    const s = bodies[b + DA] + radius * ea;
    const v = bodies[b + UA] + slope * ea;
    const r = bodies[b + R] + k * s;
    const qa = 1 + slope * slope - v * v * (1 + k * k);
    const qb = bodies[b + UD] + slope * (ed + radius) - v * (s + r * k);
    const qc = bodies[b + DD] + radius * (2 * ed + radius) - s * s - r * r;
    const discriminant = qb * qb - qa * qc;
    const kind = bodies[b + KIND];
    let low = 0;
    let high = line[2];
    if (kind === FRUSTUM || kind === SLAB) {
      // The slab between the end discs, 0 <= s + v t <= length of the body.
      const end = bodies[b + LEN] - s;
      if (v > 0) {
        if (-s > low * v) low = -s / v;
        if (end < high * v) high = end / v;
      } else if (v < 0) {
        if (end < low * v) low = end / v;
        if (-s > high * v) high = -s / v;
      } else if (s < 0 || end < 0) high = -1;
    } else if (kind === HALF_SPACE) {
      if (v > 0) high = Math.min(high, -s / v);
      else if (v < 0) low = Math.max(low, -s / v);
      else if (s > 0) high = -1;
    }
    if (kind !== HALF_SPACE && kind !== SLAB && low < high) {
      if (Math.abs(qa) < 1e-14) {
        if (qb > 0) high = Math.min(high, -qc / (2 * qb));
        else if (qb < 0) low = Math.max(low, -qc / (2 * qb));
        else if (qc > 0) high = -1;
      } else if (discriminant <= 0) {
        if (qa > 0) high = -1;
      } else {
        // The root of larger size first, the other from the product of the roots: neither loses digits.
        const q = qb < 0 ? -qb + Math.sqrt(discriminant) : -qb - Math.sqrt(discriminant);
        const one = q / qa;
        const other = qc / q;
        const first = Math.min(one, other);
        const last = Math.max(one, other);
        if (qa > 0) {
          if (first > low) low = first;
          if (last < high) high = last;
        } else if ((qa * low + 2 * qb) * low + qc <= 0) {
          // Steeper than the cone: inside before the first root or after the last, whichever the slab holds.
          if (first > low && first < high) high = first;
        } else if (last > low) low = last;
      }
    }
    range[0] = low;
    range[1] = high;
    return discriminant;
  }

  function clearance(cosine: number, sine: number, t: number): number {
    const reach = line[0] + t * line[1];
    let least = Number.POSITIVE_INFINITY;
    for (let b = 0; b < BODY * count; b += BODY) {
      // The point is d + t u + reach e from the body's start; its distances squared from there and along the body's axis.
      const along = bodies[b + DA] + t * bodies[b + UA] + reach * (bodies[b + E1A] * cosine + bodies[b + E2A] * sine);
      const side = bodies[b + E1D] * cosine + bodies[b + E2D] * sine;
      const square = bodies[b + DD] + t * (t + 2 * bodies[b + UD]) + reach * (reach + 2 * side);
      const radius = bodies[b + R] + bodies[b + K] * along;
      let outside = square - along * along - radius * radius;
      if (bodies[b + KIND] === FRUSTUM) outside = Math.max(outside, -along, along - bodies[b + LEN]);
      else if (bodies[b + KIND] === SLAB) outside = Math.max(-along, along - bodies[b + LEN]);
      if (outside < least) least = outside;
    }
    return least;
  }

  return { begin, addStrut, addNode, addHalfSpace, count: () => count, length: () => line[2], interval, clearance };
}
