import { SOBOL_DIRECTIONS } from './sobol-directions.ts';

/** Dimensions there are direction numbers for. */
export const MOST_DIMENSIONS = SOBOL_DIRECTIONS.length + 1;
const BITS = 32;

/**
 * Point `index` (from 0) of the Sobol sequence in [0, 1)^dimensions, without scrambling, in the order of the Gray code (Antonov and Saleev 1979):
 * any first 2^k points are the most even that 2^k can be. Any point is had by itself: x = the xor of the direction numbers of the bits of
 * gray(index). Throws where dimensions are not 1 to MOST_DIMENSIONS.
 */
export function sobolPoint(index: number, dimensions: number): Float64Array {
  if (!(dimensions >= 1 && dimensions <= MOST_DIMENSIONS))
    throw new RangeError(`${dimensions} dimensions; allowed: 1 to ${MOST_DIMENSIONS}`);
  const gray = (index ^ (index >>> 1)) >>> 0;
  return Float64Array.from({ length: dimensions }, (_, dimension) => {
    const directions = directionsOf(dimension);
    let x = 0;
    for (let bit = 0; gray >>> bit !== 0 && bit < BITS; bit++) if ((gray >>> bit) & 1) x ^= directions[bit];
    return (x >>> 0) / 2 ** BITS;
  });
}

/** Direction numbers of one dimension, as 32-bit fractions: v_k = a_1 v_(k-1) xor ... xor v_(k-s) xor (v_(k-s) >> s). */
function directionsOf(dimension: number): Int32Array {
  const v = new Int32Array(BITS);
  if (dimension === 0) return v.map((_, k) => 1 << (BITS - 1 - k));
  const [s, a, m] = SOBOL_DIRECTIONS[dimension - 1];
  for (let k = 0; k < BITS; k++) {
    if (k < s) {
      v[k] = m[k] << (BITS - 1 - k);
      continue;
    }
    v[k] = v[k - s] ^ (v[k - s] >>> s);
    for (let j = 1; j < s; j++) if ((a >>> (s - 1 - j)) & 1) v[k] ^= v[k - j];
  }
  return v;
}
