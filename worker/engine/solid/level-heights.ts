import type { StrutGraph } from '../lattice/index.ts';
import { AXIS, type Frames, LENGTH, RADIUS, SLOPE, STRIDE } from './frames.ts';

/** A strut counts as level when it rises by less than so many layers: the section then grows like a square root where it begins and ends. */
const LEVEL_LAYERS = 2;
/** Heights closer than this (mm) are one. */
const SAME = 1e-6;

/** Heights at which the sides of level struts begin and end, rising. */
export function levelHeights({ strutCount }: StrutGraph, { data }: Frames, layerMm: number): number[] {
  const heights: number[] = [];
  for (let s = 0; s < strutCount; s++) {
    const at = STRIDE * s;
    const [rise, length] = [data[at + AXIS + 2], data[at + LENGTH]];
    if (Math.abs(rise) * length > LEVEL_LAYERS * layerMm) continue;
    const across = Math.sqrt(1 - rise * rise);
    for (const t of [0, length]) {
      const reach = across * (data[at + RADIUS] + data[at + SLOPE] * t);
      const z = data[at + 2] + t * rise;
      heights.push(z - reach, z + reach);
    }
  }
  heights.sort((a, b) => a - b);
  return heights.filter((height, k) => k === 0 || height - heights[k - 1] > SAME);
}
