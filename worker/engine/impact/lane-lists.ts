import { STRUT_NUMBERS } from './strut-shape.ts';
import type { Struts } from './struts.ts';

/** Hands out places in a memory, each at a multiple of 16 bytes; its size is known when all are taken. */
export function makeArena() {
  let bytes = 0;
  return {
    take: (doubles: number): number => {
      const address = bytes;
      bytes += 16 * Math.ceil(doubles / 2);
      return address;
    },
    bytes: () => bytes,
  };
}

/** `length` numbers per strut, those of struts 2k and 2k + 1 alternating. */
export function sideBySide(numbers: Float64Array, length: number, count: number, out: Float64Array): void {
  for (let s = 0; s < count; s++) for (let k = 0; k < length; k++) out[2 * length * (s >> 1) + 2 * k + (s & 1)] = numbers[length * s + k];
}

/** Nodes of end 0 of both struts of a pair, then of end 1. */
export function nodesOfPairs({ count, nodeCount, ends }: Struts, out: Int32Array): void {
  for (let s = 0; s < 2 * Math.ceil(count / 2); s++) {
    const [first, second] = s < count ? [ends[2 * s], ends[2 * s + 1]] : [nodeCount, nodeCount + 1];
    out[4 * (s >> 1) + (s & 1)] = first;
    out[4 * (s >> 1) + 2 + (s & 1)] = second;
  }
}

/** Two nodes beyond the last carry a strut without stiffness, the other lane of the last one where struts are odd in number. */
export function standIn({ count, nodeCount }: Struts, positions: Float64Array, rotations: Float64Array, numbers: Float64Array): void {
  positions[3 * nodeCount + 3] = 1;
  for (const k of [0, 4, 8, 9, 13, 17]) rotations[9 * nodeCount + k] = 1;
  if (count % 2 === 0) return;
  const last = STRUT_NUMBERS * (count - 1) + 1;
  for (const k of [1, 5, 6]) numbers[last + 2 * k] = 1;
}
