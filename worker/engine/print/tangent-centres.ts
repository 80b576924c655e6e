/** What a sphere's centre keeps to while the sphere touches a body: the plane `axis = at` before a wall, or a distance from another centre. */
export type Touch =
  | { readonly axis: number; readonly at: number }
  | { readonly x: number; readonly y: number; readonly z: number; readonly distance: number };

type Vector = [number, number, number];
/** normal . p = offset */
interface Plane {
  normal: Vector;
  offset: number;
}

/** Squares that should be 0 (a sphere that just passes between two others) may come out this far below, relative to the distance's square. */
const TANGENT = 1e-12;

/**
 * Centres that keep to all three touches: none, one or two; none also where they leave a whole line or circle. Three planes meet in a point;
 * else every touch but the first sphere becomes a plane (the difference of two spheres' equations is linear), and the line of the two planes
 * cuts that sphere (trilateration).
 */
export function tangentCentres(touches: readonly [Touch, Touch, Touch]): Vector[] {
  const base = touches.find((touch) => 'distance' in touch);
  if (!base || !('distance' in base)) return cornerOf(touches);
  const [p, q] = touches.filter((touch) => touch !== base).map((touch) => planeAbout(base, touch));
  const along = cross(p.normal, q.normal);
  const square = dot(along, along);
  if (square <= TANGENT * dot(p.normal, p.normal) * dot(q.normal, q.normal)) return [];
  // Point of the line nearest to the base's centre, which is the origin here.
  const [a, b] = [cross(q.normal, along), cross(along, p.normal)];
  const foot = [0, 1, 2].map((k) => (p.offset * a[k] + q.offset * b[k]) / square) as Vector;
  const left = base.distance ** 2 - dot(foot, foot);
  if (left < -TANGENT * base.distance ** 2) return [];
  const step = Math.sqrt(Math.max(0, left) / square);
  return (step === 0 ? [0] : [-step, step]).map((t) => [
    base.x + foot[0] + t * along[0],
    base.y + foot[1] + t * along[1],
    base.z + foot[2] + t * along[2],
  ]);
}

function cornerOf(touches: readonly Touch[]): Vector[] {
  const corner: Vector = [Number.NaN, Number.NaN, Number.NaN];
  for (const touch of touches) if ('axis' in touch) corner[touch.axis] = touch.at;
  return corner.some(Number.isNaN) ? [] : [corner];
}

function planeAbout(base: Extract<Touch, { distance: number }>, touch: Touch): Plane {
  if ('axis' in touch) {
    const normal: Vector = [0, 0, 0];
    normal[touch.axis] = 1;
    return { normal, offset: touch.at - [base.x, base.y, base.z][touch.axis] };
  }
  const normal: Vector = [touch.x - base.x, touch.y - base.y, touch.z - base.z];
  return { normal, offset: (dot(normal, normal) + base.distance ** 2 - touch.distance ** 2) / 2 };
}

const dot = (a: Vector, b: Vector) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vector, b: Vector): Vector => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
