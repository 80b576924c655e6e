import { stream } from '../probability/index.ts';

/**
 * Point `index` of a Latin hypercube of `points` points in [0, 1)^dimensions (McKay, Beckman and Conover 1979): cut into `points` slices, every
 * axis has one point in each slice. Any point is had by itself, in constant memory: the slices of an axis are permuted by a keyed bijection.
 */
export function latinHypercubePoint(index: number, dimensions: number, { points, seed }: { points: number; seed: number }): Float64Array {
  return Float64Array.from({ length: dimensions }, (_, dimension) => {
    const next = stream(seed, index * dimensions + dimension);
    return (permuted(index, points, stream(seed, -1 - dimension)()) + next() / 2 ** 32) / points;
  });
}

const ROUNDS = 6;

/**
 * A permutation of 0 .. count - 1 that a key chooses: a Feistel network over the next even number of bits, walked on until it is inside (cycle walking,
 * Black and Rogaway 2002).
 */
function permuted(index: number, count: number, key: number): number {
  const half = Math.max(1, Math.ceil(Math.log2(Math.max(2, count)) / 2));
  const mask = 2 ** half - 1;
  let at = index;
  do {
    let [left, right] = [at >>> half, at & mask];
    for (let round = 0; round < ROUNDS; round++) [left, right] = [right, left ^ (mixed(right, round, key) & mask)];
    at = left * 2 ** half + right;
  } while (at >= count);
  return at;
}

/** A word from three, its bits well mixed (finaliser of MurmurHash3, Appleby 2011). */
function mixed(word: number, round: number, key: number): number {
  let h = (Math.imul(word + 1, 0x9e3779b1) ^ Math.imul(round + 1, 0x85ebca77) ^ key) | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}
