import { bowAt, GAUSS, shearShare } from './bow.ts';
import type { StrutFrame } from './strut-frame.ts';
import { deformationRows } from './strut-matrices.ts';

/**
 * Geometric stiffness of strut s per newton of tension, 12 x 12 by rows: integral of v'^T v' over both planes, v the deflection of a Timoshenko
 * strut from its first place (Przemieniecki 1968, 15.2). `rows` is scratch of 72.
 */
export function strutGeometric(frame: StrutFrame, s: number, poisson: number, rows: Float64Array, out: Float64Array): void {
  deformationRows(frame, s, rows);
  out.fill(0);
  const L = frame.lengthMm[s];
  const { diameters } = frame.graph;
  const Phi = shearShare((diameters[2 * s] + diameters[2 * s + 1]) / 2, L, poisson);
  const slope = new Float64Array(12);
  for (const { x, weight } of GAUSS) {
    const bow = bowAt(x, Phi);
    for (const axis of [2, 3] as const) {
      // Along e2 the strut deflects by bending about e3, along e3 by bending about -e2; the chord turns with the ends.
      const [first, sign] = axis === 2 ? [24, 1] : [12, -1];
      for (let i = 0; i < 12; i++) slope[i] = sign * (bow.slope[0] * rows[first + i] + bow.slope[1] * rows[first + 24 + i]);
      for (let c = 0; c < 3; c++) {
        const e = frame.triads[9 * s + 3 * (axis - 1) + c] / L;
        slope[c] -= e;
        slope[6 + c] += e;
      }
      for (let i = 0; i < 12; i++) for (let j = 0; j < 12; j++) out[12 * i + j] += weight * L * slope[i] * slope[j];
    }
  }
}
