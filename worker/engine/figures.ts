import { sumOfStruts } from './geometry.ts';
import type { StrutGraph } from './lattice/index.ts';
import type { massProperties } from './solid/index.ts';

export const G_MM3_PER_G_CM3 = 1e-3;

/** The contract's mass properties of a lattice. */
export function massFigures(mass: ReturnType<typeof massProperties>, graph: StrutGraph, densityGCm3: number, outsideDiameterMm: number) {
  return {
    volumeMm3: mass.volume,
    massG: mass.mass,
    sumOfCylindersMassG: sumOfStruts(graph) * densityGCm3 * G_MM3_PER_G_CM3,
    relativeDensityPct: (100 * mass.volume) / ((Math.PI / 6) * outsideDiameterMm ** 3),
    centreOfMassMm: mass.centre,
    inertiaGMm2: mass.inertia,
    principalInertiaGMm2: mass.principal,
  };
}
