import { completeK, jacobi } from './elliptic.ts';
import { principalAxes, type RigidBody, type Vector } from './rigid-body.ts';

/** How a part that is thrown with a spin turns in the air, without drag. */
export interface FreeSpin {
  /** Largest angle between the axis it turns about and the one it keeps in space (angular momentum), degrees. */
  readonly wobbleDeg: number;
  /** How far the point it turns about wanders over the part, degrees from where it began. */
  readonly wanderDeg: number;
  /** How often a second the wobble comes back; null where there is none. */
  readonly wobbleHz: number | null;
  /** What the turning axis circles in the part: the principal axis of the least or greatest inertia; `none`: it stays. */
  readonly circles: 'least' | 'greatest' | 'none';
  /** Largest distance of the turning axis from its mean at the surface, mm: radius times sin of the wobble. */
  readonly axisWobbleMm: number;
  /** Radius of the circle that the part's middle runs round its centre of mass, at the start, mm. */
  readonly centreWobbleMm: number;
}

/** Principal moments closer than this share, and turning axes this close to principal ones, wobble less than rounding shows. */
const ALIKE = 1e-12;
/** Places of a period at which the wander is looked at. */
const LOOKS = 400;
const DEGREES = 180 / Math.PI;

/**
 * Euler's equations without torque, solved by Jacobi's elliptic functions (Landau and Lifshitz, Mechanics, section 37): in principal axes w1 : w2 : w3 =
 * cn : sn : dn with amplitudes from energy and momentum, period 4 K sqrt(I1 I2 I3 / ((I3 - I2) (L^2 - 2 E I1))). `axis`: what it spins about at the start, in the
 * part's axes, any length; `spinRadS` above 0; `radiusMm`: where the surface is.
 */
export function freeSpin(body: Pick<RigidBody, 'inertia' | 'centreMm'>, axis: Vector, spinRadS: number, radiusMm: number): FreeSpin {
  const { moments, axes } = principalAxes(body.inertia);
  const length = Math.hypot(...axis);
  const start = axes.map((row) => (spinRadS * (row[0] * axis[0] + row[1] * axis[1] + row[2] * axis[2])) / length);
  const along = body.centreMm.reduce((sum, x, k) => sum + (x * axis[k]) / length, 0);
  const centreWobbleMm = Math.sqrt(Math.max(0, body.centreMm.reduce((sum, x) => sum + x * x, 0) - along * along));
  const polhode = polhodeOf(moments, start);
  if (polhode === null) return { wobbleDeg: 0, wanderDeg: 0, wobbleHz: null, circles: 'none', axisWobbleMm: 0, centreWobbleMm };
  let [wobble, wander] = [0, 0];
  // Where the motion begins on its period is not needed: the distance to the start is looked for over the whole of it.
  for (let k = 0; k < LOOKS; k++) {
    const w = polhode.at((4 * polhode.quarter * k) / LOOKS);
    wobble = Math.max(
      wobble,
      angleBetween(
        w,
        w.map((x, i) => moments[i] * x),
      ),
    );
    wander = Math.max(wander, angleBetween(w, start));
  }
  return {
    wobbleDeg: DEGREES * wobble,
    wanderDeg: DEGREES * wander,
    wobbleHz: polhode.rate / (4 * polhode.quarter),
    circles: polhode.circles,
    axisWobbleMm: radiusMm * Math.sin(wobble),
    centreWobbleMm,
  };
}

/**
 * Largest wobble (degrees) that any axis of spin can start with: that between the axes of the least and the greatest inertia I1, I3 whose momentum leans
 * as far from it, tan^2 = I1 / I3, so sin of the wobble = (I3 - I1) / (I3 + I1).
 */
export function worstWobbleDeg({ inertia }: Pick<RigidBody, 'inertia'>): number {
  const [least, , greatest] = principalAxes(inertia).moments;
  return DEGREES * Math.asin((greatest - least) / (greatest + least));
}

/** The turning axis in principal axes against u = rate * time, whose period is 4 quarters. */
interface Polhode {
  readonly rate: number;
  readonly quarter: number;
  readonly circles: 'least' | 'greatest';
  at(u: number): number[];
}

/**
 * null where the axis stays: equal moments, or a principal axis. The parameter's parts are sums over the start, so that nothing cancels near a sphere:
 * 2 E I3 - L^2 = sum I (I3 - I) w^2, L^2 - 2 E I1 = sum I (I - I1) w^2, L^2 - 2 E I2 = I3 (I3 - I2) w3^2 - I1 (I2 - I1) w1^2.
 */
function polhodeOf(moments: readonly [number, number, number], start: readonly number[]): Polhode | null {
  const [I1, I2, I3] = moments;
  const [w1, w2, w3] = start.map((x) => x * x);
  const top = I1 * (I3 - I1) * w1 + I2 * (I3 - I2) * w2;
  const bottom = I2 * (I2 - I1) * w2 + I3 * (I3 - I1) * w3;
  const middle = I3 * (I3 - I2) * w3 - I1 * (I2 - I1) * w1;
  const scale = ALIKE * I3 * I3 * (w1 + w2 + w3);
  if (top <= scale || bottom <= scale || I3 - I1 <= ALIKE * I3) return null;
  const greatest = middle >= 0;
  const [near, far] = greatest ? [bottom * (I3 - I2), top * (I2 - I1)] : [top * (I2 - I1), bottom * (I3 - I2)];
  const complement = (Math.abs(middle) * (I3 - I1)) / near;
  // On the border itself the axis nears the middle one for ever.
  if (complement < ALIKE) return null;
  const m = far / near;
  const sign = Math.sign(greatest ? start[2] : start[0]) || 1;
  const [a1, a2, a3] = [
    Math.sqrt(top / (I1 * (I3 - I1))),
    Math.sqrt((greatest ? top : bottom) / (greatest ? I2 * (I3 - I2) : I2 * (I2 - I1))),
    Math.sqrt(bottom / (I3 * (I3 - I1))),
  ];
  return {
    rate: Math.sqrt(near / (I1 * I2 * I3)),
    quarter: completeK(complement),
    circles: greatest ? 'greatest' : 'least',
    at: (u) => {
      const { sn, cn, dn } = jacobi(u, m, complement);
      return greatest ? [sign * a1 * cn, a2 * sn, sign * a3 * dn] : [sign * a1 * dn, a2 * sn, sign * a3 * cn];
    },
  };
}

/** From the cross product, so that small angles are exact. */
function angleBetween(a: readonly number[], b: readonly number[]): number {
  const cross = Math.hypot(a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]);
  return Math.atan2(cross, a[0] * b[0] + a[1] * b[1] + a[2] * b[2]);
}
