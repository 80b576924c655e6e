import type { RigidBody } from './rigid-body.ts';

/** A flat floor z = 0 that gives a little under every sphere, and holds it where it touches. */
export interface Floor {
  /** Of one sphere on the floor, along and across. */
  readonly stiffnessNPerMm: number;
  /** Damping force over stiffness, s: viscous, along and across. */
  readonly dampingS: number;
  /** Coefficient of friction. */
  readonly friction: number;
}

/** Forces of the floor on a body, and where its energy is. */
export interface FloorContact {
  /** Force (N) and torque about the centre of mass (N mm), 3 + 3. */
  readonly load: Float64Array;
  /** Stored in the floor at present, N mm. */
  readonly stored: () => number;
  /** Turned into heat since the start, N mm. */
  readonly heat: () => number;
  /** Advances the grip of the spheres by a time step, and finds the load for a place (centre of mass), attitude (matrix), velocity and spin. */
  step(place: Float64Array, attitude: Float64Array, velocity: Float64Array, spin: Float64Array, dt: number): void;
}

/** The list of spheres that may touch holds until the body has turned this far since, radians. */
const TURNED = 0.1;

/**
 * Each sphere presses with k p + c p' where it is p below the floor, never pulling, and grips with a spring and a dashpot of the same strength between its
 * lowest point and the floor, up to friction times its pressure, where it slips (Cundall and Strack 1979).
 */
export function floorContact(body: RigidBody, { stiffnessNPerMm: k, dampingS, friction }: Floor): FloorContact {
  const count = body.radius.length;
  const local = body.xyz.map((x, i) => x - body.centreMm[i % 3]);
  const c = k * dampingS;
  const load = new Float64Array(6);
  // Stretch of each sphere's grip, 2 per sphere, 0 while it does not touch.
  const grip = new Float64Array(2 * count);
  const listed = new Int32Array(count);
  const height = new Float64Array(count);
  let candidates = 0;
  let turned = Number.POSITIVE_INFINITY;
  let stored = 0;
  let heat = 0;

  /** Spheres that can be lowest, or touch, before the body has turned by TURNED: a point at horizontal distance h moves up or down by that times h at most. */
  function list(R: Float64Array): void {
    let [lowest, reach] = [Number.POSITIVE_INFINITY, 0];
    for (let v = 0; v < count; v++) {
      height[v] = R[6] * local[3 * v] + R[7] * local[3 * v + 1] + R[8] * local[3 * v + 2] - body.radius[v];
      if (height[v] < lowest) {
        lowest = height[v];
        reach = horizontal(R, v);
      }
    }
    candidates = 0;
    for (let v = 0; v < count; v++) {
      const [h, size] = [horizontal(R, v), Math.hypot(local[3 * v], local[3 * v + 1], local[3 * v + 2])];
      if (height[v] - lowest <= TURNED * (h + reach) + TURNED * TURNED * size + body.radius[v] / 4) listed[candidates++] = v;
      else release(v);
    }
    turned = 0;
  }

  const gripEnergy = (v: number) => (k / 2) * (grip[2 * v] * grip[2 * v] + grip[2 * v + 1] * grip[2 * v + 1]);

  /** What a grip holds when its sphere leaves the floor rings away. */
  function release(v: number): void {
    heat += gripEnergy(v);
    grip[2 * v] = 0;
    grip[2 * v + 1] = 0;
  }

  const horizontal = (R: Float64Array, v: number) =>
    Math.hypot(
      R[0] * local[3 * v] + R[1] * local[3 * v + 1] + R[2] * local[3 * v + 2],
      R[3] * local[3 * v] + R[4] * local[3 * v + 1] + R[5] * local[3 * v + 2],
    );

  function step(place: Float64Array, R: Float64Array, velocity: Float64Array, spin: Float64Array, dt: number): void {
    turned += Math.sqrt(spin[0] * spin[0] + spin[1] * spin[1] + spin[2] * spin[2]) * dt;
    if (turned > TURNED) list(R);
    load.fill(0);
    stored = 0;
    for (let n = 0; n < candidates; n++) {
      const v = listed[n];
      const [x, y, z] = [local[3 * v], local[3 * v + 1], local[3 * v + 2]];
      const rz = R[6] * x + R[7] * y + R[8] * z - body.radius[v];
      const sunk = -(place[2] + rz);
      if (sunk <= 0) {
        release(v);
        continue;
      }
      touch(v, R[0] * x + R[1] * y + R[2] * z, R[3] * x + R[4] * y + R[5] * z, rz, sunk, velocity, spin, dt);
    }
  }

  /** One sphere: (rx, ry, rz) from the centre of mass to its lowest point. */
  function touch(v: number, rx: number, ry: number, rz: number, sunk: number, velocity: Float64Array, w: Float64Array, dt: number): void {
    const vx = velocity[0] + w[1] * rz - w[2] * ry;
    const vy = velocity[1] + w[2] * rx - w[0] * rz;
    const sinking = -(velocity[2] + w[0] * ry - w[1] * rx);
    const press = Math.max(0, k * sunk + c * sinking);
    const before = gripEnergy(v);
    const gx = grip[2 * v] + vx * dt;
    const gy = grip[2 * v + 1] + vy * dt;
    let fx = -k * gx - c * vx;
    let fy = -k * gy - c * vy;
    const pull = Math.sqrt(fx * fx + fy * fy);
    const slips = pull > friction * press;
    const share = slips ? (friction * press) / pull : 1;
    fx *= share;
    fy *= share;
    // Slipping, the spring keeps what friction bears, and the dashpot rests.
    grip[2 * v] = slips ? -fx / k : gx;
    grip[2 * v + 1] = slips ? -fy / k : gy;
    stored += (k / 2) * sunk * sunk + gripEnergy(v);
    heat += dt * ((press - k * sunk) * sinking - fx * vx - fy * vy) - (gripEnergy(v) - before);
    load[0] += fx;
    load[1] += fy;
    load[2] += press;
    load[3] += ry * press - rz * fy;
    load[4] += rz * fx - rx * press;
    load[5] += rx * fy - ry * fx;
  }

  return { load, stored: () => stored, heat: () => heat, step };
}
