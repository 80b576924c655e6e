import { matrixOf, type Quaternion, turnBy } from './attitude.ts';
import { type Floor, floorContact } from './floor-contact.ts';
import { inverseOf, type RigidBody, type Vector } from './rigid-body.ts';

/** mm/s2. */
export const GRAVITY = 9806.65;

/** How a body starts: its attitude, the place of its own origin, and the velocity and spin it has, mm, mm/s, rad/s. */
export interface Start {
  readonly attitude: Quaternion;
  readonly middle: Vector;
  readonly velocity: Vector;
  readonly spin: Vector;
}

/** A rigid body that moves on a floor. */
export interface RollingBody {
  /** Place of the body's own origin, mm. */
  readonly middle: Float64Array;
  /** Advances by one step. */
  step(dt: number): void;
  /** Energy now, of motion, of height and in the floor, N mm. */
  energy(): { moving: number; raised: number; stored: number };
  /** Turned into heat since the start, N mm. */
  heat(): number;
  /** Angular velocity, rad/s, in space. */
  spin(): Vector;
}

/**
 * Newton's and Euler's equations, explicit: half a kick of momentum and angular momentum, a drift (place in a straight line, attitude by the exact rotation
 * of the angular velocity at its midpoint), half a kick by the old load, the floor's new load at the velocities this gives, and half a kick by
 * the difference. Second order, also with damping; without load momentum and angular momentum are kept exactly.
 */
export function rollingBody(body: RigidBody, floor: Floor, start: Start): RollingBody {
  const { massT, centreMm } = body;
  const inverse = inverseOf(body.inertia);
  const contact = floorContact(body, floor);
  const { load } = contact;
  // Force and torque of the last step, weight included, and by how much the next ones differ.
  const acting = new Float64Array(6);
  const change = new Float64Array(6);
  const weight = massT * GRAVITY;
  const q = start.attitude.slice();
  const halfway = new Float64Array(4);
  const R = new Float64Array(9);
  const place = new Float64Array(3);
  const velocity = new Float64Array(3);
  const momentum = new Float64Array(3);
  const w = new Float64Array(3);
  const middle = Float64Array.from(start.middle);
  const own = new Float64Array(3);

  /** Angular velocity of the angular momentum at an attitude. */
  function spinAt(attitude: Quaternion): void {
    matrixOf(attitude, R);
    for (let i = 0; i < 3; i++) own[i] = R[i] * momentum[0] + R[3 + i] * momentum[1] + R[6 + i] * momentum[2];
    const [x, y, z] = [
      inverse[0] * own[0] + inverse[1] * own[1] + inverse[2] * own[2],
      inverse[3] * own[0] + inverse[4] * own[1] + inverse[5] * own[2],
      inverse[6] * own[0] + inverse[7] * own[1] + inverse[8] * own[2],
    ];
    for (let i = 0; i < 3; i++) w[i] = R[3 * i] * x + R[3 * i + 1] * y + R[3 * i + 2] * z;
  }

  function kick(dt: number, by: Float64Array): void {
    for (let i = 0; i < 3; i++) {
      velocity[i] += (dt / massT) * by[i];
      momentum[i] += dt * by[3 + i];
    }
  }

  /** From the centre of mass to the body's origin, turned. */
  const offset = (i: number) => -(R[3 * i] * centreMm[0] + R[3 * i + 1] * centreMm[1] + R[3 * i + 2] * centreMm[2]);

  /** Asks the floor for its load at the present place and velocities. */
  function press(dt: number): void {
    contact.step(place, R, velocity, w, dt);
    for (let i = 0; i < 6; i++) {
      const now = load[i] - (i === 2 ? weight : 0);
      change[i] = now - acting[i];
      acting[i] = now;
    }
  }

  function begin(): void {
    matrixOf(q, R);
    const [a, b, c] = [0, 1, 2].map((i) => -offset(i));
    const [x, y, z] = start.spin;
    const carried = [y * c - z * b, z * a - x * c, x * b - y * a];
    for (let i = 0; i < 3; i++) {
      place[i] = start.middle[i] - offset(i);
      velocity[i] = start.velocity[i] + carried[i];
      own[i] = R[i] * x + R[3 + i] * y + R[6 + i] * z;
    }
    const inPart = body.inertia.map((row) => row[0] * own[0] + row[1] * own[1] + row[2] * own[2]);
    for (let i = 0; i < 3; i++) momentum[i] = R[3 * i] * inPart[0] + R[3 * i + 1] * inPart[1] + R[3 * i + 2] * inPart[2];
    spinAt(q);
    press(0);
  }

  begin();
  return {
    middle,
    step: (dt) => {
      kick(dt / 2, acting);
      spinAt(q);
      halfway.set(q);
      turnBy(halfway, (w[0] * dt) / 2, (w[1] * dt) / 2, (w[2] * dt) / 2);
      spinAt(halfway);
      turnBy(q, w[0] * dt, w[1] * dt, w[2] * dt);
      for (let i = 0; i < 3; i++) place[i] += dt * velocity[i];
      kick(dt / 2, acting);
      spinAt(q);
      press(dt);
      kick(dt / 2, change);
      for (let i = 0; i < 3; i++) middle[i] = place[i] + offset(i);
    },
    energy: () => {
      spinAt(q);
      const square = velocity[0] ** 2 + velocity[1] ** 2 + velocity[2] ** 2;
      const moving = (massT * square + momentum[0] * w[0] + momentum[1] * w[1] + momentum[2] * w[2]) / 2;
      return { moving, raised: massT * GRAVITY * place[2], stored: contact.stored() };
    },
    heat: contact.heat,
    spin: () => {
      spinAt(q);
      return [w[0], w[1], w[2]];
    },
  };
}
