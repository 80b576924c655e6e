import { type RigidBody, rigidBodyOf } from '../../../worker/engine/motion/index.ts';
import { integrateUnion, massProperties, unionSurface } from '../../../worker/engine/solid/index.ts';
import { doubleShell } from '../lattice/samples.ts';

export const GRAVITY = 9806.65;
export const MASS = 0.31e-3;
export const RADIUS = 81;
export const UPRIGHT = Float64Array.of(1, 0, 0, 0);

/** A round ball: one sphere about its middle; `share` is I / (m R^2), `offset` its centre of mass. */
export function roundBall(share: number, offset: readonly [number, number, number] = [0, 0, 0]): RigidBody {
  const I = share * MASS * RADIUS * RADIUS;
  return {
    massT: MASS,
    centreMm: offset,
    inertia: [
      [I, 0, 0],
      [0, I, 0],
      [0, 0, I],
    ],
    xyz: new Float64Array(3),
    radius: Float64Array.of(RADIUS),
  };
}

/** A lattice ball of two layers of a tiling, about 160 mm across. */
export function latticeBall(m: number, n: number): RigidBody {
  const lattice = doubleShell(m, n, [79, 65], [4, 3.6, 3.6]);
  const { moments } = integrateUnion(lattice.graph, unionSurface(lattice.graph), lattice.symmetry);
  return rigidBodyOf(lattice, massProperties(moments, [0, 0, 0], 1.1e-3));
}
