import { type LaneProgram, type Lanes, laneProgram, type Pair } from '../lanes/index.ts';

/** Bytes of a number in both lanes. */
const LANES = 16;
const NUMBER = 8;

/**
 * Kick: rates (velocity and spin, 6 per node) by the loads (force and moment) over one step, whose shares step / mass and step / inertia are given.
 * Parameters: addresses of rates, loads, shares, and the count of pairs of numbers.
 */
export function kickProgram(): Uint8Array {
  return laneProgram(4, (p) => {
    const [rates, loads, shares, count] = [0, 1, 2, 3].map(p.param);
    const steps = [rates, loads, shares].map((list) => [list, LANES] as const);
    p.repeat(count, steps, () => p.store(rates, 0, p.add(p.load(rates, 0), p.mul(p.load(shares, 0), p.load(loads, 0)))));
  });
}

/**
 * Drift: positions by the velocities, attitudes by the rotation through step * spin: q <- (cos(x/2), sin(x/2) axis) q with x its angle (the exponential map;
 * its series is exact to 1e-12 at the 0.05 rad of a step), then back to unit length, and as matrices. An inertia equal about every axis has no gyroscopic
 * term. Parameters: addresses of positions (3), attitudes (4: w x y z), rotations (9) and rates (6) per node, of the step, and the count of pairs of nodes.
 */
export function driftProgram(): Uint8Array {
  return laneProgram(6, (p) => {
    const [positions, attitudes, rotations, rates, step, count] = [0, 1, 2, 3, 4, 5].map(p.param);
    const steps = [
      [positions, 6],
      [attitudes, 8],
      [rotations, 18],
      [rates, 12],
    ] as const;
    const { add, sub, mul, constant } = p;
    const h = p.splat(step, 0);
    p.repeat(
      count,
      steps.map(([list, numbers]) => [list, NUMBER * numbers] as const),
      () => {
        const at = (list: (typeof steps)[number]): Pair => [list[0], p.beyond(list[0], (NUMBER * list[1]) / 2)];
        const [places, turns, matrices, moving] = steps.map(at);
        const read = (list: Pair, from: number, length: number) => Array.from({ length }, (_, k) => p.gather(list, NUMBER * (from + k)));
        const write = (list: Pair, values: readonly Lanes[]) => values.forEach((value, k) => p.scatter(list, NUMBER * k, value));
        const rate = read(moving, 0, 6);
        write(
          places,
          read(places, 0, 3).map((each, k) => add(each, mul(h, rate[k]))),
        );
        const angle = [mul(h, rate[3]), mul(h, rate[4]), mul(h, rate[5])];
        const square = angle.map((each) => mul(each, each)).reduce(add);
        const c = sub(constant(1), mul(square, sub(constant(1 / 8), mul(square, constant(1 / 384)))));
        const s = sub(constant(1 / 2), mul(square, sub(constant(1 / 48), mul(square, constant(1 / 3840)))));
        const turned = quaternionProduct(p, [c, ...angle.map((each) => mul(s, each))], read(turns, 0, 4));
        // One Newton step of 1 / sqrt from 1: rounding is all that has to be mended.
        const length2 = turned.map((each) => mul(each, each)).reduce(add);
        const unit = sub(constant(1.5), mul(constant(0.5), length2));
        const attitude = turned.map((each) => mul(unit, each));
        write(turns, attitude);
        write(matrices, matrixOf(p, attitude));
      },
    );
  });
}

function quaternionProduct({ add, sub, mul }: LaneProgram, [w, x, y, z]: readonly Lanes[], [W, X, Y, Z]: readonly Lanes[]): Lanes[] {
  return [
    sub(sub(mul(w, W), mul(x, X)), add(mul(y, Y), mul(z, Z))),
    add(add(mul(w, X), mul(x, W)), sub(mul(y, Z), mul(z, Y))),
    add(add(mul(w, Y), mul(y, W)), sub(mul(z, X), mul(x, Z))),
    add(add(mul(w, Z), mul(z, W)), sub(mul(x, Y), mul(y, X))),
  ];
}

/** Rotation matrix, row-major, of a unit quaternion. */
function matrixOf({ add, sub, mul, constant }: LaneProgram, [w, x, y, z]: readonly Lanes[]): Lanes[] {
  const [x2, y2, z2] = [x, y, z].map((each) => add(each, each));
  const [xx, yy, zz] = [mul(x2, x), mul(y2, y), mul(z2, z)];
  const [xy, xz, yz] = [mul(x2, y), mul(x2, z), mul(y2, z)];
  const [wx, wy, wz] = [mul(x2, w), mul(y2, w), mul(z2, w)];
  const one = constant(1);
  return [
    ...[sub(sub(one, yy), zz), sub(xy, wz), add(xz, wy)],
    ...[add(xy, wz), sub(sub(one, xx), zz), sub(yz, wx)],
    ...[sub(xz, wy), add(yz, wx), sub(sub(one, xx), yy)],
  ];
}
