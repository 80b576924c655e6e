import { shearCoefficient } from './strut-flexibility.ts';

/** Five Gauss points on [0, 1]: exact to degree 9, which the squares of cubic shapes times a fourth power of the diameter do not exceed. */
export const GAUSS: readonly { readonly x: number; readonly weight: number }[] = [
  [0, 128 / 225],
  [Math.sqrt(5 - 2 * Math.sqrt(10 / 7)) / 3, (322 + 13 * Math.sqrt(70)) / 900],
  [-Math.sqrt(5 - 2 * Math.sqrt(10 / 7)) / 3, (322 + 13 * Math.sqrt(70)) / 900],
  [Math.sqrt(5 + 2 * Math.sqrt(10 / 7)) / 3, (322 - 13 * Math.sqrt(70)) / 900],
  [-Math.sqrt(5 + 2 * Math.sqrt(10 / 7)) / 3, (322 - 13 * Math.sqrt(70)) / 900],
].map(([x, weight]) => ({ x: (1 + x) / 2, weight: weight / 2 }));

/** Shape of a bent strut at one place, per unit rotation phi of either end: deflection from the chord over L, its slope, the section's rotation. */
export interface Bow {
  readonly deflection: readonly [number, number];
  readonly slope: readonly [number, number];
  readonly rotation: readonly [number, number];
}

/** Share of shear in the bending of a prismatic round strut: Phi = 12 E I / (kappa G A L^2). */
export function shearShare(diameterMm: number, lengthMm: number, poisson: number): number {
  return (12 * 2 * (1 + poisson) * (diameterMm / 4) ** 2) / (shearCoefficient(poisson) * lengthMm ** 2);
}

/** Shape functions of a prismatic Timoshenko strut (Przemieniecki 1968, 11.6), relative to the chord, at the share x of its length. */
export function bowAt(x: number, Phi: number): Bow {
  const y = 1 - x;
  const c = 1 / (1 + Phi);
  return {
    deflection: [c * (x * y * y + (Phi / 2) * x * y), -c * (x * x * y + (Phi / 2) * x * y)],
    slope: [c * (y * y - 2 * x * y + (Phi / 2) * (y - x)), c * (x * x - 2 * x * y - (Phi / 2) * (y - x))],
    rotation: [c * (y * (1 - 3 * x) + Phi * y), c * (x * (3 * x - 2) + Phi * x)],
  };
}
