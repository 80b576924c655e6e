import { NATURAL, type StrutFrame } from './strut-frame.ts';

/** Unknowns of a strut: displacement and rotation of end 0, then of end 1. */
export const STRUT_UNKNOWNS = 12;

/**
 * Rows (6 x 12) that turn the unknowns of strut s into its six deformations, small displacements: stretch e1.d, bending
 * phi2 = theta.e2 + e3.d / L and phi3 = theta.e3 - e2.d / L at each end with d = u1 - u0, twist e1.(theta1 - theta0).
 */
export function deformationRows({ lengthMm, triads }: StrutFrame, s: number, rows: Float64Array): void {
  rows.fill(0);
  for (let c = 0; c < 3; c++) {
    const [e1, e2, e3] = [triads[9 * s + c], triads[9 * s + 3 + c], triads[9 * s + 6 + c]];
    rows[c] = -e1;
    rows[6 + c] = e1;
    for (let end = 0; end < 2; end++) {
      const [about2, about3] = [12 * (1 + 2 * end), 12 * (2 + 2 * end)];
      rows[about2 + c] = -e3 / lengthMm[s];
      rows[about2 + 6 + c] = e3 / lengthMm[s];
      rows[about2 + 6 * end + 3 + c] = e2;
      rows[about3 + c] = e2 / lengthMm[s];
      rows[about3 + 6 + c] = -e2 / lengthMm[s];
      rows[about3 + 6 * end + 3 + c] = e3;
    }
    rows[60 + 3 + c] = -e1;
    rows[60 + 9 + c] = e1;
  }
}

/** Forces that go with the six deformations of strut s: natural stiffness times `q`, into `forces` (6); N and N mm. */
export function naturalForces({ natural }: StrutFrame, s: number, q: Float64Array, forces: Float64Array): void {
  const at = NATURAL * s;
  forces[0] = natural[at] * q[0];
  forces[5] = natural[at + 1] * q[5];
  for (let i = 0; i < 4; i++) {
    let sum = 0;
    for (let j = 0; j < 4; j++) sum += natural[at + bendingEntry(i, j)] * q[1 + j];
    forces[1 + i] = sum;
  }
}

/** Place of entry (i, j) of the bending matrix among a strut's natural numbers: its upper triangle by rows. */
function bendingEntry(i: number, j: number): number {
  const [row, column] = i < j ? [i, j] : [j, i];
  return 2 + 4 * row - (row * (row - 1)) / 2 + column - row;
}

/** Stiffness of strut s over its 12 unknowns, 12 x 12 by rows: B^T k B. `rows` is scratch of 72. */
export function strutStiffness(frame: StrutFrame, s: number, rows: Float64Array, out: Float64Array): void {
  deformationRows(frame, s, rows);
  out.fill(0);
  const q = new Float64Array(6);
  const forces = new Float64Array(6);
  for (let j = 0; j < STRUT_UNKNOWNS; j++) {
    for (let d = 0; d < 6; d++) q[d] = rows[12 * d + j];
    naturalForces(frame, s, q, forces);
    for (let i = 0; i <= j; i++) {
      let sum = 0;
      for (let d = 0; d < 6; d++) sum += rows[12 * d + i] * forces[d];
      out[12 * i + j] = sum;
      out[12 * j + i] = sum;
    }
  }
}
