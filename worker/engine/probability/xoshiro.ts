/** Next whole number, evenly from 0 to 2^32 - 1. */
export type NextWord = () => number;

/**
 * xoshiro128** 1.1 (Blackman and Vigna 2018): period 2^128 - 1 from four 32-bit words, not all 0. Written anew from its definition:
 * result = rotl(5 s1, 7) 9; then t = s1 << 9, s2 ^= s0, s3 ^= s1, s1 ^= s2, s0 ^= s3, s2 ^= t, s3 = rotl(s3, 11).
 */
export function xoshiro128(words: readonly [number, number, number, number]): NextWord {
  let [s0, s1, s2, s3] = words.map((word) => word | 0);
  return () => {
    const five = Math.imul(s1, 5);
    const result = Math.imul((five << 7) | (five >>> 25), 9) >>> 0;
    const t = s1 << 9;
    s2 ^= s0;
    s3 ^= s1;
    s1 ^= s2;
    s0 ^= s3;
    s2 ^= t;
    s3 = (s3 << 11) | (s3 >>> 21);
    return result;
  };
}

/**
 * A stream of words for a seed and the number of a stream (both whole, from 0): streams of one seed can be drawn in any order or none, and sample k stays
 * sample k. The four words are scrambled from the two by a finaliser of full period (MurmurHash3, Appleby 2011).
 */
export function stream(seed: number, index: number): NextWord {
  const low = scrambled(seed);
  const words = [1, 2, 3, 4].map((k) => scrambled(scrambled(low + index) + Math.imul(k, 0x9e3779b9)));
  return xoshiro128([words[0], words[1], words[2], words[3] | 1]);
}

function scrambled(word: number): number {
  let h = word | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}
