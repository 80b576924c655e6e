/** A strut as its neighbours at a node see it: its direction away from the node (unit), and its radius there, mm. */
export interface Arm {
  readonly direction: readonly [number, number, number];
  readonly radius: number;
}

type Axis = ArrayLike<number>;

/**
 * Directions round a strut at which the reach is looked up, counted from each of the other struts. The means below have kinks and jumps: against ten times
 * as many they differ by at most 1.5 % on the joints of tests/reference/joint-solids.json, a sixth of the model's band.
 */
const AROUND = 36;
const COS = Float64Array.from({ length: AROUND }, (_, k) => Math.cos((2 * Math.PI * (k + 0.5)) / AROUND));
const SIN = Float64Array.from({ length: AROUND }, (_, k) => Math.sin((2 * Math.PI * (k + 0.5)) / AROUND));

/** How far the material of a joint goes along a strut, mm. */
export interface Reach {
  /** Of the node's sphere, which is above zero for a strut thinner than the thickest. */
  readonly sphere: number;
  /** Mean round the strut, of the sphere and the other struts. */
  readonly mean: number;
  /** Mean of 2 n n^T over (e2, e3) as [22, 23, 33]: fibres that bending works hard count most, and a fibre as much as its opposite. */
  readonly tensor: readonly [number, number, number];
}

/**
 * Reach of a joint along one of its struts: for each direction n round the strut, the distance from the node at which the strut's surface leaves the
 * other struts and the node's sphere. Zero at free ends and where two struts of one diameter run straight on. `e2`, `e3`: axes of the cross-section. Directions are counted
 * from every other strut in turn, so that like joints of a lattice are looked at alike, wherever they lie.
 */
export function reachOf(arm: Arm, e2: Axis, e3: Axis, others: readonly Arm[], sphereRadius: number): Reach {
  const seen = others.map(({ direction, radius }) => ({
    c: dot(arm.direction, direction),
    a2: dot(e2, direction),
    a3: dot(e3, direction),
    radius,
  }));
  const sphere = Math.sqrt(Math.max(0, sphereRadius * sphereRadius - arm.radius * arm.radius));
  const around = new Float64Array(AROUND);
  let [mean, s22, s23, s33] = [0, 0, 0, 0];
  const origins = originsOf(seen);
  for (const [cos, sin] of origins) {
    around.fill(sphere);
    for (const { c, a2, a3, radius } of seen) {
      const [along, across] = [cos * a2 + sin * a3, cos * a3 - sin * a2];
      for (let k = 0; k < AROUND; k++) around[k] = Math.max(around[k], exit(arm.radius, radius, c, COS[k] * along + SIN[k] * across));
    }
    for (let k = 0; k < AROUND; k++) {
      mean += around[k];
      // Material that holds a strut on one side keeps the opposite fibres from turning too.
      const share = 2 * Math.max(around[k], around[(k + AROUND / 2) % AROUND]);
      const [n2, n3] = [cos * COS[k] - sin * SIN[k], sin * COS[k] + cos * SIN[k]];
      s22 += share * n2 * n2;
      s23 += share * n2 * n3;
      s33 += share * n3 * n3;
    }
  }
  const count = AROUND * origins.length;
  return { sphere, mean: mean / count, tensor: [s22 / count, s23 / count, s33 / count] };
}

/** Unit directions over (e2, e3) in which struts stand that are not in line with this one; [1, 0] without any. */
function originsOf(seen: readonly { readonly a2: number; readonly a3: number }[]): [number, number][] {
  const beside = seen.map(({ a2, a3 }) => ({ a2, a3, across: Math.hypot(a2, a3) })).filter(({ across }) => across > 1e-6);
  return beside.length === 0 ? [[1, 0]] : beside.map(({ a2, a3, across }) => [a2 / across, a3 / across]);
}

/**
 * Distance x along a strut at which the line of its surface, x e1 + r n, leaves a cylinder of radius R that starts at the node along a, with c = e1.a
 * and m = n.a: the larger root of (1 - c^2) x^2 - 2 r c m x + r^2 (1 - m^2) - R^2 = 0, or where it passes the plane at the cylinder's start.
 */
function exit(r: number, R: number, c: number, m: number): number {
  const square = 1 - c * c;
  if (square < 1e-12) return 0;
  const half = r * c * m;
  const discriminant = half * half - square * (r * r * (1 - m * m) - R * R);
  if (discriminant <= 0) return 0;
  const x = (half + Math.sqrt(discriminant)) / square;
  if (x * c + r * m >= 0) return x;
  return c < 0 ? (r * m) / -c : 0;
}

const dot = (a: Axis, b: Axis): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
