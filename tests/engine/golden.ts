/**
 * Checksum of the engine's numbers on three fixed inputs, and the engine version it belongs to. When a change to the engine changes numbers,
 * raise ENGINE_VERSION (openapi/engine-version.ts) and put both new values here, in the same commit.
 */
export const GOLDEN = { engineVersion: '1.1.0', checksum: 'eb53ec510a5ed48ea62e79699cbce632ea9dad3fd27c1d0a5527984e25fc45b3' };
