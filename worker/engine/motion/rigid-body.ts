import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import type { Lattice } from '../lattice/index.ts';
import type { MassProperties } from '../solid/index.ts';

export type Vector = readonly [number, number, number];

/** A rigid part, in its own axes: mass in tonnes, mm; inertia about the centre of mass, tonne mm2. */
export interface RigidBody {
  readonly massT: number;
  readonly centreMm: Vector;
  readonly inertia: readonly [Vector, Vector, Vector];
  /** What touches the floor: sphere k about xyz[3k ..] with radius[k], mm. */
  readonly xyz: Float64Array;
  readonly radius: Float64Array;
}

const TONNE_PER_G = 1e-6;

/** A lattice with its mass properties in grams, as a rigid body that touches the floor with the node spheres of layer 0. */
export function rigidBodyOf({ graph, nodesPerLayer }: Pick<Lattice, 'graph' | 'nodesPerLayer'>, mass: MassProperties): RigidBody {
  return {
    massT: TONNE_PER_G * mass.mass,
    centreMm: mass.centre,
    inertia: mass.inertia.map((row) => row.map((x) => TONNE_PER_G * x)) as unknown as RigidBody['inertia'],
    xyz: graph.xyz.slice(0, 3 * nodesPerLayer),
    radius: graph.nodeRadius.slice(0, nodesPerLayer),
  };
}

/** Principal moments ascending, and the rows of a right-handed frame of principal axes. */
export function principalAxes(inertia: RigidBody['inertia']): { moments: [number, number, number]; axes: [number[], number[], number[]] } {
  const found = new EigenvalueDecomposition(new Matrix(inertia.map((row) => [...row])), { assumeSymmetric: true });
  const order = [0, 1, 2].sort((a, b) => found.realEigenvalues[a] - found.realEigenvalues[b]);
  const [a, b] = order.map((k) => found.eigenvectorMatrix.getColumn(k));
  const c = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  return { moments: order.map((k) => found.realEigenvalues[k]) as [number, number, number], axes: [a, b, c] };
}

/** Inverse of a symmetric 3 x 3 matrix, row-major, by cofactors. */
export function inverseOf([[a, b, c], [, d, e], [, , f]]: RigidBody['inertia']): Float64Array {
  const [x, y, z] = [d * f - e * e, c * e - b * f, b * e - c * d];
  const determinant = a * x + b * y + c * z;
  return Float64Array.of(x, y, z, y, a * f - c * c, b * c - a * e, z, b * c - a * e, a * d - b * b).map((each) => each / determinant);
}
