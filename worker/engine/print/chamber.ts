import type { BuildVolume, PrintMaterial } from './types.ts';

/** Factors along x, y, z by which a part is built larger so that it has its size after shrinkage: 1 / (1 - shrinkage). */
export function shrinkageScale({ shrinkagePct }: Pick<PrintMaterial, 'shrinkagePct'>): [number, number, number] {
  return [1 / (1 - shrinkagePct[0] / 100), 1 / (1 - shrinkagePct[1] / 100), 1 / (1 - shrinkagePct[2] / 100)];
}

/**
 * Diameter (mm) of the sphere that holds the scaled part whatever its shape: the circumscribed sphere of the part as designed, scaled by
 * the largest of the three factors.
 */
export const builtDiameterMm = (outsideDiameterMm: number, material: Pick<PrintMaterial, 'shrinkagePct'>): number =>
  outsideDiameterMm * Math.max(...shrinkageScale(material));

/**
 * Room for parts along x, y, z, mm: the chamber less the wall margin on four sides, and less the cover above the parts and a bed of powder
 * of the same thickness below them. Negative when the margins fill the chamber.
 */
export function clearSizeMm(volume: Pick<BuildVolume, 'sizeMm' | 'wallMarginMm' | 'coverMm'>): [number, number, number] {
  const { sizeMm, wallMarginMm, coverMm } = volume;
  return [sizeMm[0] - 2 * wallMarginMm, sizeMm[1] - 2 * wallMarginMm, sizeMm[2] - 2 * coverMm];
}
