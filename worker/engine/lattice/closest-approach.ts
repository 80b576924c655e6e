/** Where two struts come closest: the gap of their surfaces, the distance of their axes there, and both radii there; mm. */
export interface Approach {
  gapMm: number;
  distanceMm: number;
  radiusA: number;
  radiusB: number;
}

const GOLDEN = (Math.sqrt(5) - 1) / 2;
/** 0.618^44 of a strut's length is below 1e-9 of it, and the gap changes by no more than the place does. */
const GOLDEN_STEPS = 44;
const clamp01 = (value: number) => Math.min(Math.max(value, 0), 1);

/**
 * Smallest distance between the axes of struts a and b less their radii there, written into `out`. Struts are taken as spheres swept along
 * their axis with a radius that varies linearly: exact for cylinders with node spheres and for round cones; a right circular frustum lies
 * inside its round cone, so for frusta the gap is a lower bound. xyz: 3 per node; ends, diameters: 2 per strut.
 * Both distances are convex in the two places, so the minimum is global.
 */
export function closestApproach(xyz: Float64Array, ends: Int32Array, diameters: Float64Array, a: number, b: number, out: Approach): void {
  const cylinders = diameters[2 * a] === diameters[2 * a + 1] && diameters[2 * b] === diameters[2 * b + 1];
  if (cylinders) {
    out.radiusA = diameters[2 * a] / 2;
    out.radiusB = diameters[2 * b] / 2;
    out.distanceMm = segmentDistance(xyz, 3 * ends[2 * a], 3 * ends[2 * a + 1], 3 * ends[2 * b], 3 * ends[2 * b + 1]);
    out.gapMm = out.distanceMm - out.radiusA - out.radiusB;
  } else roundConeApproach(xyz, ends, diameters, a, b, out);
}

/** Distance of the segments P0P1 and Q0Q1 (offsets into xyz); Ericson, Real-Time Collision Detection, 2005, section 5.1.9. */
export function segmentDistance(xyz: Float64Array, p0: number, p1: number, q0: number, q1: number): number {
  const ux = xyz[p1] - xyz[p0];
  const uy = xyz[p1 + 1] - xyz[p0 + 1];
  const uz = xyz[p1 + 2] - xyz[p0 + 2];
  const vx = xyz[q1] - xyz[q0];
  const vy = xyz[q1 + 1] - xyz[q0 + 1];
  const vz = xyz[q1 + 2] - xyz[q0 + 2];
  const wx = xyz[p0] - xyz[q0];
  const wy = xyz[p0 + 1] - xyz[q0 + 1];
  const wz = xyz[p0 + 2] - xyz[q0 + 2];
  const uu = ux * ux + uy * uy + uz * uz;
  const vv = vx * vx + vy * vy + vz * vz;
  const uv = ux * vx + uy * vy + uz * vz;
  const uw = ux * wx + uy * wy + uz * wz;
  const vw = vx * wx + vy * wy + vz * wz;
  const across = uu * vv - uv * uv;
  // Parallel within rounding: any place on the first serves as a start, the clamping below finds the nearest pair.
  let s = across > 1e-14 * uu * vv ? clamp01((uv * vw - vv * uw) / across) : 0;
  let t = vv > 0 ? (uv * s + vw) / vv : 0;
  if (t < 0 || t > 1) {
    t = clamp01(t);
    s = uu > 0 ? clamp01((uv * t - uw) / uu) : 0;
  }
  return Math.hypot(wx + s * ux - t * vx, wy + s * uy - t * vy, wz + s * uz - t * vz);
}

/** Golden section along strut a; for each place there the nearest place of the cone b is closed form. */
function roundConeApproach(xyz: Float64Array, ends: Int32Array, diameters: Float64Array, a: number, b: number, out: Approach): void {
  let low = 0;
  let high = 1;
  let left = high - GOLDEN;
  let right = GOLDEN;
  const at = (s: number) => {
    coneToPlace(xyz, ends, diameters, a, b, s, out);
    return out.gapMm;
  };
  let atLeft = at(left);
  let atRight = at(right);
  for (let step = 0; step < GOLDEN_STEPS; step++) {
    if (atLeft <= atRight) {
      high = right;
      right = left;
      atRight = atLeft;
      atLeft = at((left = high - GOLDEN * (high - low)));
    } else {
      low = left;
      left = right;
      atLeft = atRight;
      atRight = at((right = low + GOLDEN * (high - low)));
    }
  }
  // An end of the strut is often the answer, and the section only approaches it.
  const places = [0, 1, (low + high) / 2];
  const gaps = places.map(at);
  at(places[gaps.indexOf(Math.min(...gaps))]);
}

/** Gap between the sphere at parameter s of strut a and the round cone b: h = offset from b's axis, k = slope of its radius. */
function coneToPlace(xyz: Float64Array, ends: Int32Array, diameters: Float64Array, a: number, b: number, s: number, out: Approach): void {
  const [a0, a1, b0, b1] = [3 * ends[2 * a], 3 * ends[2 * a + 1], 3 * ends[2 * b], 3 * ends[2 * b + 1]];
  const px = xyz[a0] + s * (xyz[a1] - xyz[a0]) - xyz[b0];
  const py = xyz[a0 + 1] + s * (xyz[a1 + 1] - xyz[a0 + 1]) - xyz[b0 + 1];
  const pz = xyz[a0 + 2] + s * (xyz[a1 + 2] - xyz[a0 + 2]) - xyz[b0 + 2];
  const dx = xyz[b1] - xyz[b0];
  const dy = xyz[b1 + 1] - xyz[b0 + 1];
  const dz = xyz[b1 + 2] - xyz[b0 + 2];
  const length = Math.hypot(dx, dy, dz);
  const foot = length > 0 ? (px * dx + py * dy + pz * dz) / length : 0;
  const h = Math.sqrt(Math.max(0, px * px + py * py + pz * pz - foot * foot));
  const k = length > 0 ? (diameters[2 * b + 1] - diameters[2 * b]) / 2 / length : 0;
  // Steeper than a sphere that swallows the other: the larger end is nearest.
  const best = Math.abs(k) < 1 ? foot + (h * k) / Math.sqrt(1 - k * k) : k > 0 ? length : 0;
  const x = Math.min(Math.max(best, 0), length);
  out.radiusA = (diameters[2 * a] + s * (diameters[2 * a + 1] - diameters[2 * a])) / 2;
  out.radiusB = diameters[2 * b] / 2 + k * x;
  out.distanceMm = Math.hypot(h, x - foot);
  out.gapMm = out.distanceMm - out.radiusA - out.radiusB;
}
