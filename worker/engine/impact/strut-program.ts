import { type Address, type LaneProgram, type Lanes, laneProgram } from '../lanes/index.ts';
import { type LaneVector, vectorsOf } from './lane-vectors.ts';
import { NODE_NUMBERS } from './nodes.ts';
import { ARC, DEFORMATIONS, LANES, naturalForces, nextPair, nodesOf, type Shape, series, shapeOf } from './strut-shape.ts';

/**
 * Adds the forces and moments (N, N mm; about the nodes, in space) with which struts act on their nodes to the loads, and moves the branches' memory on by
 * one step. They are the exact gradient of E = 1/2 q K q, K the natural stiffness, in the deformations q = (u, phi0, phi1, tau): with the chord d of length l
 * and direction e, and the sections' axes t = R (e1, e2, e3) at each end (dot and cross products only, so rigid motion changes nothing),
 *   phi = f(S) (e.t3, -e.t2), f = asin(S)/S, S^2 = (e.t2)^2 + (e.t3)^2;   tau = 2 atan(tan(tau/2)), the twist of swing and twist (t1 carried onto t1');
 *   u = l - L + L/30 (2 phi0^2 - phi0.phi1 + 2 phi1^2), the last what the bow of a cubic takes from the chord.
 * Branches: q is replaced by q + sum of ratio w, see `recursionOf`.
 * Parameters: addresses of the numbers, of the ends, of the memory, of positions (3), rotations (9, row-major) and loads (6) per node, of the
 * recursion (present, then keep and take of each branch), and the count of pairs of struts. Numbers and memory hold the two struts of a pair side by side.
 */
export function strutForcesProgram(branches: number): Uint8Array {
  return laneProgram(8, (p) => {
    const [numbers, ends, memory, positions, rotations, loads, recursion, count] = [0, 1, 2, 3, 4, 5, 6, 7].map(p.param);
    p.repeat(count, nextPair(numbers, ends, memory, branches), () => {
      const shape = shapeOf(p, numbers, ends, positions, rotations);
      const effective = relaxed(p, shape.q, branches, memory, recursion);
      const [first, second] = forcesOf(p, shape, effective, numbers);
      p.scatterAdd(nodesOf(p, ends, 0, loads, NODE_NUMBERS), first);
      p.scatterAdd(nodesOf(p, ends, 1, loads, NODE_NUMBERS), second);
    });
  });
}

/** q present - sum of memory, as the branches see it; the memory moves on: keep memory + take q. */
function relaxed(p: LaneProgram, q: readonly Lanes[], branches: number, memory: Address, recursion: Address): Lanes[] {
  const present = p.splat(recursion, 0);
  const effective = q.map((each) => p.mul(present, each));
  for (let b = 0; b < branches; b++) {
    const keep = p.splat(recursion, 8 + 16 * b);
    const take = p.splat(recursion, 16 + 16 * b);
    q.forEach((each, k) => {
      const at = LANES * (DEFORMATIONS * b + k);
      const held = p.load(memory, at);
      effective[k] = p.sub(effective[k], held);
      p.store(memory, at, p.add(p.mul(keep, held), p.mul(take, each)));
    });
  }
  return effective;
}

/** Force and moment on both ends: minus the derivative of the energy by the places and turns of the nodes. */
function forcesOf(
  p: LaneProgram,
  { q, e, perLength, ends, alike, half2 }: Shape,
  effective: readonly Lanes[],
  numbers: Address,
): Lanes[][] {
  const { plus, minus, times, cross } = vectorsOf(p);
  const { constant, add, sub, mul, div } = p;
  const natural = naturalForces(p, effective, numbers);
  const axial = natural[0];
  // The bow's share of the moments: axial times the derivative of the stretch.
  const bowed = mul(p.load(numbers, LANES * 7), axial);
  const four = constant(4);
  const moment = (k: number) => add(natural[k], mul(bowed, sub(mul(four, q[k]), q[k < 3 ? k + 2 : k - 2])));
  // In terms of the sines e.t2 and e.t3: h is the derivative by e.
  const across = ends.map(({ t2, t3, s2, s3, z, f }, end): { h: LaneVector; along: Lanes } => {
    const [m2, m3] = [moment(1 + 2 * end), moment(2 + 2 * end)];
    const c = mul(
      series(
        p,
        z,
        ARC.map((each, k) => 2 * (k + 1) * each),
      ),
      sub(mul(m2, s3), mul(m3, s2)),
    );
    const y2 = sub(mul(c, s2), mul(f, m3));
    const y3 = add(mul(c, s3), mul(f, m2));
    return { h: plus(times(y2, t2), times(y3, t3)), along: add(mul(y2, s2), mul(y3, s3)) };
  });
  const [a, b] = across;
  const force = plus(times(sub(axial, mul(perLength, add(a.along, b.along))), e), times(perLength, plus(a.h, b.h)));
  // The twist turns about t1 + t1'; the derivative of its cut series is 1 + (tan^2)^5 times that of tau.
  const half4 = mul(half2, half2);
  const torque = div(mul(natural[5], add(constant(1), mul(mul(half4, half4), half2))), alike);
  const twist = times(torque, plus(ends[0].t1, ends[1].t1));
  const zero = constant(0);
  const away: LaneVector = [zero, zero, zero];
  return [
    [...force, ...minus(twist, cross(a.h, e))],
    [...minus(away, force), ...minus(minus(away, twist), cross(b.h, e))],
  ];
}
