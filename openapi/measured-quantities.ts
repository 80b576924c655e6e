import type { MEASURABLE } from './measurement.ts';

/**
 * What is measured on a printed part, and the dotted path of what a result predicts of it; null: no result does. The names are those that
 * targets use, and a few more.
 */
export const PREDICTED_AT = {
  massG: 'massProperties.massG',
  outsideDiameterMm: 'geometry.outsideDiameterMm',
  circumferenceMm: 'geometry.circumferenceMm',
  stiffnessNPerMm: 'stiffness.secantNPerMm',
  initialNPerMm: 'stiffness.initialNPerMm',
  reboundHeightMm: 'rebound.reboundHeightMm.mean',
  restitution: 'rebound.restitution.mean',
  contactTimeMs: 'rebound.contactTimeMs',
  peakForceN: 'rebound.peakForceN',
  centreOfMassOffsetMm: 'balance.centreOfMassOffsetMm',
  rollDeviationMm: 'motion.roll.deviationMm.mean',
  cyclesToFailure: 'life.cyclesToFailure',
  cyclesSurvived: null,
  roundnessMm: null,
  outOfRoundMm: null,
} as const satisfies Record<(typeof MEASURABLE)[number], string> & Record<string, string | null>;
export type MeasuredQuantity = keyof typeof PREDICTED_AT;
export const MEASURED_QUANTITIES = Object.keys(PREDICTED_AT) as [MeasuredQuantity, ...MeasuredQuantity[]];
