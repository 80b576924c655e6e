const GRAVITY_MM_S2 = 9806.65;
const MPA_PER_BAR = 0.1;
const T_PER_G = 1e-6;

/** A gas-filled ball on one rigid face. */
export interface Inflated {
  readonly pressureBar: number;
  readonly diameterMm: number;
  readonly massG: number;
  readonly dropHeightMm: number;
}

/** First-order peak force of a thin inflated ball, N: F = v sqrt(k m) with k = 2 pi R p and v = sqrt(2 g h); without wall, damping and drag. */
export function inflatedPeakForce({ pressureBar, diameterMm, massG, dropHeightMm }: Inflated): number {
  const stiffness = Math.PI * diameterMm * pressureBar * MPA_PER_BAR;
  return Math.sqrt(2 * GRAVITY_MM_S2 * dropHeightMm * stiffness * massG * T_PER_G);
}
