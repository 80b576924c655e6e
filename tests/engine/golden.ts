/**
 * Checksum of the engine's numbers on three fixed inputs, and the engine version it belongs to. When a change to the engine changes numbers,
 * raise ENGINE_VERSION (openapi/engine-version.ts) and put both new values here, in the same commit.
 */
export const GOLDEN = { engineVersion: '1.2.0', checksum: 'cb167fe5c3dc42c68d0e5a567f0ebabd6dbd56fa2282eba9b26c1dc08c2b4311' };

/** The numbers of mechanics on one fixed input, to seven digits; they change with the version too. */
export const GOLDEN_MECHANICS = {
  longTermMPa: 41.1094,
  initialNPerMm: 1.872841,
  secantNPerMm: 1.695105,
  squeezedStrainPct: 4.584416,
  loopPct: 3.312364,
  firstHz: 230.7,
  sixthHz: 298.4239,
  leastReboundMm: 266.0807,
  mostReboundMm: 342.8461,
  contactTimeMs: 6.012739,
  peakForceN: 23.01417,
  peakStrainPct: 12.58635,
  thrownSpinRadS: 37.27899,
  cyclesToFailure: 144769800,
};
