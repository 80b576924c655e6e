import type { Quaternion } from './attitude.ts';
import type { Floor } from './floor-contact.ts';
import type { RigidBody } from './rigid-body.ts';
import { GRAVITY, rollingBody } from './rolling-body.ts';

export interface RollTrack {
  /** `stopped`: it came to rest, or turned back, before the distance; `cancelled`: stopped from outside. */
  readonly kind: 'arrived' | 'stopped' | 'cancelled';
  /** How far it came in the direction it was sent, mm. */
  readonly distanceMm: number;
  /** Sideways from the straight line there, mm, to the left positive; and the largest on the way, without sign. */
  readonly deviationMm: number;
  readonly largestDeviationMm: number;
  readonly timeS: number;
  /** Mean speed over the last tenth of the way or of the time, mm/s. */
  readonly speedMmS: number;
  /** Largest error of the energy account at any time, over the energy of motion at the start, percent. */
  readonly balanceErrorPct: number;
}

export interface RollOptions {
  readonly distanceMm: number;
  readonly speedMmS: number;
  readonly floor: Floor;
  readonly isCancelled?: () => boolean;
}

/** Steps in a radian of the stiffest vibration of the body on its floor. */
const STEPS_PER_RADIAN = 12;
/** A body on the floor rests on few spheres at once; so many share the load at the stiffest. */
const MOST_TOUCHING = 4;
/** It stopped when it moved less than this share of its radius in this time, s. */
const [STILL_SHARE, STILL_S] = [0.02, 0.4];
const POLL = 512;

/**
 * Sends a body rolling along x over a floor, standing in an attitude, with the spin that just does not slip; follows it to the distance or to rest. Rolling
 * resistance is what its bumps and the floor's damping take.
 */
export function roll(body: RigidBody, attitude: Quaternion, options: RollOptions): RollTrack {
  const { distanceMm, speedMmS, floor } = options;
  const height = standing(body, attitude) - (body.massT * GRAVITY) / floor.stiffnessNPerMm;
  const moving = rollingBody(body, floor, {
    attitude,
    middle: [0, 0, height],
    velocity: [speedMmS, 0, 0],
    spin: [0, speedMmS / height, 0],
  });
  const dt = stableStep(body, floor, height);
  const start = moving.energy();
  const { middle } = moving;
  const whole = start.moving + start.raised + start.stored;
  const window = Math.max(1, Math.round(STILL_S / dt));
  // One that needs five times the time at its first speed counts as stopped.
  const last = Math.ceil((5 * distanceMm) / speedMmS / dt) + 5 * window;
  let [largest, miss, mark, markAt] = [0, 0, 0, 0];
  const track = (kind: RollTrack['kind'], n: number): RollTrack => ({
    kind,
    distanceMm: middle[0],
    deviationMm: middle[1],
    largestDeviationMm: largest,
    timeS: n * dt,
    speedMmS: n > markAt ? (middle[0] - mark) / ((n - markAt) * dt) : speedMmS,
    balanceErrorPct: (100 * miss) / start.moving,
  });
  for (let n = 1; n <= last; n++) {
    moving.step(dt);
    largest = Math.max(largest, Math.abs(middle[1]));
    if (n % 16 === 0) {
      const { moving: kinetic, raised, stored } = moving.energy();
      miss = Math.max(miss, Math.abs(kinetic + raised + stored + moving.heat() - whole));
    }
    if (middle[0] >= distanceMm) return track('arrived', n);
    if (n % POLL === 0 && options.isCancelled?.()) return track('cancelled', n);
    if (n - markAt < window) continue;
    if (Math.abs(middle[0] - mark) < STILL_SHARE * height || middle[0] < mark) return track('stopped', n);
    [mark, markAt] = [middle[0], n];
  }
  return track('stopped', last);
}

/** Height of the body's origin above a floor that its lowest sphere just touches. */
function standing({ xyz, radius }: RigidBody, [w, x, y, z]: Quaternion): number {
  const row = [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)];
  let lowest = Number.POSITIVE_INFINITY;
  for (let v = 0; v < radius.length; v++)
    lowest = Math.min(lowest, row[0] * xyz[3 * v] + row[1] * xyz[3 * v + 1] + row[2] * xyz[3 * v + 2] - radius[v]);
  return -lowest;
}

/** Time step, s, for a body that stands so high. Of the stiffest vibration: sideways at the floor the body is lighter, 1/m + h^2/I; its damping counts as well. */
export function stableStep({ massT, inertia }: RigidBody, { stiffnessNPerMm, dampingS }: Floor, height: number): number {
  const least = Math.min(inertia[0][0], inertia[1][1], inertia[2][2]);
  const rate = Math.sqrt(MOST_TOUCHING * stiffnessNPerMm * (1 / massT + (height * height) / least));
  return Math.min(1 / (STEPS_PER_RADIAN * rate), dampingS > 0 ? 0.2 / (dampingS * rate * rate) : Number.POSITIVE_INFINITY);
}
