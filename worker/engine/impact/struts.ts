/** The struts of a lattice in the order in which they are gone through. */
export interface Struts {
  readonly count: number;
  readonly nodeCount: number;
  /** Nodes of the two ends, 2 each. */
  readonly ends: Int32Array;
  /** STRUT_NUMBERS each; mm, N/mm, N mm/rad; stiffness at the long-term modulus. */
  readonly numbers: Float64Array;
}
