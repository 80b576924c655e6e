import { bowAt, GAUSS, shearShare } from './bow.ts';
import type { StrutFrame } from './strut-frame.ts';
import { deformationRows } from './strut-matrices.ts';

/**
 * Consistent mass of strut s over its 12 unknowns, 12 x 12 by rows: the shapes of a Timoshenko strut, the mass of each section and its rotary
 * inertia, through the taper. Density in tonne/mm3. `rows` is scratch of 72.
 */
export function strutMass(frame: StrutFrame, s: number, densityTMm3: number, poisson: number, rows: Float64Array, out: Float64Array): void {
  deformationRows(frame, s, rows);
  out.fill(0);
  const L = frame.lengthMm[s];
  const { diameters } = frame.graph;
  const Phi = shearShare((diameters[2 * s] + diameters[2 * s + 1]) / 2, L, poisson);
  for (const { x, weight } of GAUSS) {
    const d = diameters[2 * s] * (1 - x) + diameters[2 * s + 1] * x;
    const mass = (densityTMm3 * weight * L * Math.PI * d * d) / 4;
    const rotary = (mass * d * d) / 16;
    for (const [row, inertia] of motionRows(frame, s, x, Phi, rows).map(
      (row, k) => [row, k < 3 ? mass : k === 3 ? 2 * rotary : rotary] as const,
    ))
      addOuter(out, row, inertia);
  }
}

/** Rows (12 each) of a section's displacement along e1, e2, e3 and of its rotation about them. */
function motionRows({ triads, lengthMm }: StrutFrame, s: number, x: number, Phi: number, rows: Float64Array): Float64Array[] {
  const bow = bowAt(x, Phi);
  const L = lengthMm[s];
  return [0, 1, 2, 3, 4, 5].map((k) => {
    const row = new Float64Array(12);
    const axis = k % 3;
    // Linear between the ends: displacement, and the rotation about the axis.
    if (k < 4) {
      for (let c = 0; c < 3; c++) {
        const e = triads[9 * s + 3 * axis + c];
        row[(k === 3 ? 3 : 0) + c] = (1 - x) * e;
        row[(k === 3 ? 9 : 6) + c] = x * e;
      }
    }
    // Across the chord: bending about e3 deflects along e2, bending about e2 along -e3.
    if (k === 1) for (let i = 0; i < 12; i++) row[i] += L * (bow.deflection[0] * rows[24 + i] + bow.deflection[1] * rows[48 + i]);
    if (k === 2) for (let i = 0; i < 12; i++) row[i] -= L * (bow.deflection[0] * rows[12 + i] + bow.deflection[1] * rows[36 + i]);
    if (k > 3) {
      // The chord's own rotation: about e2 -e3.d / L, about e3 e2.d / L.
      for (let c = 0; c < 3; c++) {
        const across = k === 4 ? -triads[9 * s + 6 + c] / L : triads[9 * s + 3 + c] / L;
        row[c] -= across;
        row[6 + c] += across;
      }
      const first = k === 4 ? 12 : 24;
      for (let i = 0; i < 12; i++) row[i] += bow.rotation[0] * rows[first + i] + bow.rotation[1] * rows[first + 24 + i];
    }
    return row;
  });
}

function addOuter(out: Float64Array, row: Float64Array, factor: number): void {
  for (let i = 0; i < 12; i++) for (let j = 0; j < 12; j++) out[12 * i + j] += factor * row[i] * row[j];
}
