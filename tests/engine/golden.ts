/**
 * Checksum of the engine's numbers on three fixed inputs, and the engine version it belongs to. When a change to the engine changes numbers,
 * raise ENGINE_VERSION (openapi/engine-version.ts) and put both new values here, in the same commit.
 */
export const GOLDEN = { engineVersion: '1.4.3', checksum: 'cabc62d5f7be4be02b049a406b94c57d01421281483acc67fbfa35493fcd9e35' };

/** The numbers of mechanics on one fixed input, to seven digits; they change with the version too. */
export const GOLDEN_MECHANICS = {
  longTermMPa: 41.1094,
  initialNPerMm: 2.541444,
  secantNPerMm: 2.307738,
  squeezedStrainPct: 7.02007,
  loopPct: 3.320593,
  firstHz: 267.0511,
  sixthHz: 337.3073,
  leastReboundMm: 256.8018,
  mostReboundMm: 341.6975,
  contactTimeMs: 5.056076,
  peakForceN: 28.19284,
  peakStrainPct: 17.71287,
  thrownSpinRadS: 38.39465,
  cyclesToFailure: 8396582,
};
