/** Lumped nodes: mass (tonne), inertia about every axis (tonne mm2), radius of the sphere that touches the floor (mm). */
export interface Nodes {
  readonly count: number;
  readonly mass: Float64Array;
  readonly inertia: Float64Array;
  readonly radius: Float64Array;
}

/** Numbers of a node's load (force, moment; N, N mm) and of its rate (velocity, spin; mm/s, rad/s), all in space. */
export const NODE_NUMBERS = 6;

/** What moves; rates are half a step behind the positions between two steps. */
export interface Motion {
  /** mm, 3 per node. */
  readonly positions: Float64Array;
  /** Unit quaternion w x y z from the reference, 4 per node, and the same as a matrix, 9 per node, row-major. */
  readonly attitudes: Float64Array;
  readonly rotations: Float64Array;
  /** NODE_NUMBERS each. */
  readonly rates: Float64Array;
  readonly loads: Float64Array;
}
