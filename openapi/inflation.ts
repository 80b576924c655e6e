import { z } from 'zod';

export const estimate = z
  .strictObject({ value: z.number(), label: z.literal('estimate'), formula: z.string(), caution: z.string() })
  .meta({ id: 'Estimate' });
export const inflationEstimates = z
  .strictObject({
    stiffnessNPerMm: estimate,
    contactTimeMs: estimate,
    peakForceN: estimate.nullable().meta({ description: 'null without a drop height' }),
    inertiaGMm2: estimate,
  })
  .meta({ id: 'InflationEstimates', description: 'First-order estimates of an inflated original: nobody measured them' });
export type InflationEstimates = z.infer<typeof inflationEstimates>;

interface Band {
  quantity: string;
  min?: number;
  target?: number;
  max?: number;
}
export interface Inflated {
  targets: readonly Band[];
  inflation: { pressureBar: number } | null;
  dropHeightMm: number | null;
}

const MPA_PER_BAR = 0.1;
const STANDARD_GRAVITY_M_S2 = 9.80665;

/** The target of a quantity, or the middle of its band; null without either. */
function middle(targets: readonly Band[], quantity: string): number | null {
  const { min, target, max } = targets.find((each) => each.quantity === quantity) ?? {};
  if (target !== undefined) return target;
  return min !== undefined && max !== undefined ? (min + max) / 2 : null;
}

function radiusMm(targets: readonly Band[]): number | null {
  const diameter = middle(targets, 'outsideDiameterMm');
  const circumference = middle(targets, 'circumferenceMm');
  if (diameter !== null) return diameter / 2;
  return circumference === null ? null : circumference / (2 * Math.PI);
}

const labelled = (value: number, formula: string, caution: string) => ({ value, label: 'estimate' as const, formula, caution });

/**
 * Estimates of a thin inflated sphere of radius R, pressure p and mass m between flat faces: force p pi a^2 over a contact circle
 * a^2 = 2 R d, so k = 2 pi R p per contact face; half a period of m on k; v sqrt(k m) at the speed v = sqrt(2 g h) of the drop; 2/3 m R^2 of
 * a thin shell. undefined without a pressure, a mass and a size, all above 0.
 */
export function estimatesOf({ targets, inflation, dropHeightMm }: Inflated): InflationEstimates | undefined {
  const [massG, radius] = [middle(targets, 'massG'), radiusMm(targets)];
  if (!inflation || !massG || !radius || massG < 0 || radius < 0) return undefined;
  const stiffness = 2 * Math.PI * radius * inflation.pressureBar * MPA_PER_BAR;
  const massKg = massG / 1000;
  const stiffnessNPerM = stiffness * 1000;
  const speed = dropHeightMm === null ? null : Math.sqrt((2 * STANDARD_GRAVITY_M_S2 * dropHeightMm) / 1000);
  return {
    stiffnessNPerMm: labelled(stiffness, 'k = 2 pi R p', 'Per contact face, of the gas alone: the wall adds to it; for small deflections'),
    contactTimeMs: labelled(1000 * Math.PI * Math.sqrt(massKg / stiffnessNPerM), 't = pi sqrt(m / k)', 'On one face, without damping'),
    peakForceN:
      speed === null
        ? null
        : labelled(speed * Math.sqrt(stiffnessNPerM * massKg), 'F = sqrt(2 g h k m)', 'On one rigid face, without damping and drag'),
    inertiaGMm2: labelled(
      (2 / 3) * massG * radius ** 2,
      'I = 2/3 m R^2',
      'Of a thin shell of even mass: bladder, valve and seams left out',
    ),
  };
}
