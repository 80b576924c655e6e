import { fromTriplets, type SparseMatrix } from '../sparse/index.ts';
import type { StrutFrame } from './strut-frame.ts';
import { massScratch, strutMass } from './strut-mass.ts';
import { STRUT_UNKNOWNS, strutStiffness } from './strut-matrices.ts';

/** Unknowns per node: displacement x, y, z, then rotation about x, y, z. Unknown k of node v is 6 v + k. */
export const NODE_UNKNOWNS = 6;

/** Stiffness of a frame over the unknowns of all its nodes; N, mm, rad. `poll` is called for every strut, and may throw. */
export function stiffnessMatrix(frame: StrutFrame, poll?: () => void): SparseMatrix {
  const rows = new Float64Array(72);
  return assemble(frame, (s, out) => strutStiffness(frame, s, rows, out), poll);
}

/**
 * Consistent mass of a frame, density in tonne/mm3: every strut from node centre to node centre, so joints count more than once. `poll` is called
 * for every strut, and may throw.
 */
export function massMatrix(
  frame: StrutFrame,
  { densityTMm3, poisson, poll }: { densityTMm3: number; poisson: number; poll?: () => void },
): SparseMatrix {
  const scratch = massScratch();
  return assemble(frame, (s, out) => strutMass(frame, s, densityTMm3, poisson, scratch, out), poll);
}

/** Sum of 12 x 12 strut matrices. */
export function assemble({ graph }: StrutFrame, strutMatrix: (s: number, out: Float64Array) => void, poll?: () => void): SparseMatrix {
  const perStrut = (STRUT_UNKNOWNS * (STRUT_UNKNOWNS + 1)) / 2;
  const count = perStrut * graph.strutCount;
  const [rows, cols, values] = [new Int32Array(count), new Int32Array(count), new Float64Array(count)];
  const matrix = new Float64Array(STRUT_UNKNOWNS * STRUT_UNKNOWNS);
  let at = 0;
  for (let s = 0; s < graph.strutCount; s++) {
    poll?.();
    strutMatrix(s, matrix);
    const unknown = (k: number) => NODE_UNKNOWNS * graph.ends[2 * s + (k < NODE_UNKNOWNS ? 0 : 1)] + (k % NODE_UNKNOWNS);
    for (let i = 0; i < STRUT_UNKNOWNS; i++) {
      for (let j = 0; j <= i; j++) {
        rows[at] = unknown(i);
        cols[at] = unknown(j);
        values[at++] = matrix[STRUT_UNKNOWNS * i + j];
      }
    }
  }
  return fromTriplets(NODE_UNKNOWNS * graph.nodeCount, rows, cols, values);
}
