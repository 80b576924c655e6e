import type { Variation } from '../../../worker/engine/vary/variation.ts';

/** Parts that print as designed. */
export const NO_VARIATION = {
  biasByAngle: [],
  diameterScatterMm: 0,
  partScatterMm: 0,
  driftMm: 0,
  scalePct: 0,
  upScalePct: 0,
  densityPct: 0,
  modulusPct: 0,
  directionPct: 0,
} satisfies Variation;
