import { type Bow, bowAt, GAUSS, shearShare } from './bow.ts';
import type { StrutFrame } from './strut-frame.ts';
import { deformationRows } from './strut-matrices.ts';

/** Room for one strut at a time: rows of its deformations and of a section's motions, 6 x 12 each. */
export interface MassScratch {
  readonly deformations: Float64Array;
  readonly motions: Float64Array;
}

export const massScratch = (): MassScratch => ({ deformations: new Float64Array(72), motions: new Float64Array(72) });

/**
 * Consistent mass of strut s over its 12 unknowns, 12 x 12 by rows: the shapes of a Timoshenko strut, the mass of each section and its rotary
 * inertia, through the taper. Density in tonne/mm3.
 */
export function strutMass(
  frame: StrutFrame,
  s: number,
  densityTMm3: number,
  poisson: number,
  { deformations, motions }: MassScratch,
  out: Float64Array,
): void {
  deformationRows(frame, s, deformations);
  out.fill(0);
  const L = frame.lengthMm[s];
  const { diameters } = frame.graph;
  const Phi = shearShare((diameters[2 * s] + diameters[2 * s + 1]) / 2, L, poisson);
  for (const { x, weight } of GAUSS) {
    const d = diameters[2 * s] * (1 - x) + diameters[2 * s + 1] * x;
    const mass = (densityTMm3 * weight * L * Math.PI * d * d) / 4;
    const rotary = (mass * d * d) / 16;
    motionRows(frame, s, x, bowAt(x, Phi), deformations, motions);
    for (let k = 0; k < 6; k++) addOuter(out, motions, 12 * k, k < 3 ? mass : k === 3 ? 2 * rotary : rotary);
  }
  for (let i = 0; i < 12; i++) for (let j = 0; j < i; j++) out[12 * j + i] = out[12 * i + j];
}

/** Rows (6 x 12) of a section's displacement along e1, e2, e3 and of its rotation about them. */
function motionRows({ triads, lengthMm }: StrutFrame, s: number, x: number, bow: Bow, rows: Float64Array, motions: Float64Array): void {
  const L = lengthMm[s];
  motions.fill(0);
  for (let c = 0; c < 3; c++) {
    const [e1, e2, e3] = [triads[9 * s + c], triads[9 * s + 3 + c], triads[9 * s + 6 + c]];
    // Linear between the ends: displacement, and the rotation about the axis.
    [motions[c], motions[12 + c], motions[24 + c], motions[36 + 3 + c]] = [(1 - x) * e1, (1 - x) * e2, (1 - x) * e3, (1 - x) * e1];
    [motions[6 + c], motions[12 + 6 + c], motions[24 + 6 + c], motions[36 + 9 + c]] = [x * e1, x * e2, x * e3, x * e1];
    // The chord's own rotation: about e2 -e3.d / L, about e3 e2.d / L.
    [motions[48 + c], motions[48 + 6 + c]] = [e3 / L, -e3 / L];
    [motions[60 + c], motions[60 + 6 + c]] = [-e2 / L, e2 / L];
  }
  for (let i = 0; i < 12; i++) {
    // Across the chord: bending about e3 deflects along e2, bending about e2 along -e3.
    motions[12 + i] += L * (bow.deflection[0] * rows[24 + i] + bow.deflection[1] * rows[48 + i]);
    motions[24 + i] -= L * (bow.deflection[0] * rows[12 + i] + bow.deflection[1] * rows[36 + i]);
    motions[48 + i] += bow.rotation[0] * rows[12 + i] + bow.rotation[1] * rows[36 + i];
    motions[60 + i] += bow.rotation[0] * rows[24 + i] + bow.rotation[1] * rows[48 + i];
  }
}

/** Lower triangle of factor times the outer product of the 12 numbers from `at` with themselves. */
function addOuter(out: Float64Array, rows: Float64Array, at: number, factor: number): void {
  for (let i = 0; i < 12; i++) {
    const scaled = factor * rows[at + i];
    if (scaled !== 0) for (let j = 0; j <= i; j++) out[12 * i + j] += scaled * rows[at + j];
  }
}
