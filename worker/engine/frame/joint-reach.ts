/** A strut as its neighbours at a node see it: its direction away from the node (unit), and its radius there, mm. */
export interface Arm {
  readonly direction: readonly [number, number, number];
  readonly radius: number;
}

type Axis = ArrayLike<number>;

/** Directions round a strut at which the reach is looked up: enough for 0.2 % of the means below. */
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
 * other struts and the node's sphere. Zero at free ends and where two struts of one diameter run straight on. `e2`, `e3`: axes of the cross-section.
 */
export function reachOf(arm: Arm, e2: Axis, e3: Axis, others: readonly Arm[], sphereRadius: number): Reach {
  const { radius } = arm;
  const sphere = Math.sqrt(Math.max(0, sphereRadius * sphereRadius - radius * radius));
  const around = new Float64Array(AROUND).fill(sphere);
  for (const { direction, radius: other } of others) {
    const [c, a2, a3] = [dot(arm.direction, direction), dot(e2, direction), dot(e3, direction)];
    for (let k = 0; k < AROUND; k++) around[k] = Math.max(around[k], exit(radius, other, c, COS[k] * a2 + SIN[k] * a3));
  }
  let [mean, s22, s23, s33] = [0, 0, 0, 0];
  for (let k = 0; k < AROUND; k++) {
    mean += around[k] / AROUND;
    // Material that holds a strut on one side keeps the opposite fibres from turning too.
    const share = (2 * Math.max(around[k], around[(k + AROUND / 2) % AROUND])) / AROUND;
    s22 += share * COS[k] * COS[k];
    s23 += share * COS[k] * SIN[k];
    s33 += share * SIN[k] * SIN[k];
  }
  return { sphere, mean, tensor: [s22, s23, s33] };
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
