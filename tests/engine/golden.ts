/**
 * Checksum of the engine's numbers on three fixed inputs, and the engine version it belongs to. When a change to the engine changes numbers,
 * raise ENGINE_VERSION (openapi/engine-version.ts) and put both new values here, in the same commit.
 */
export const GOLDEN = { engineVersion: '1.3.0', checksum: 'cb167fe5c3dc42c68d0e5a567f0ebabd6dbd56fa2282eba9b26c1dc08c2b4311' };

/** The numbers of mechanics on one fixed input, to seven digits; they change with the version too. */
export const GOLDEN_MECHANICS = {
  longTermMPa: 41.1094,
  initialNPerMm: 2.541474,
  secantNPerMm: 2.307776,
  squeezedStrainPct: 7.020424,
  loopPct: 3.320603,
  firstHz: 267.0471,
  sixthHz: 337.2984,
  leastReboundMm: 256.8454,
  mostReboundMm: 341.6968,
  contactTimeMs: 5.055251,
  peakForceN: 28.19235,
  peakStrainPct: 17.71311,
  thrownSpinRadS: 38.39636,
  cyclesToFailure: 8395624,
};
