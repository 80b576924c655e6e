import { type NextWord, stream } from './xoshiro.ts';

/** Random numbers of the kinds the engine needs. */
export interface Deviates {
  /** Evenly in the open interval (0, 1), in steps of 2^-32. */
  uniform(): number;
  /** Normal, mean 0, deviation 1. */
  normal(): number;
  /** A unit vector, evenly over the sphere. */
  direction(): [number, number, number];
}

/** Deviates of stream `index` of a seed. */
export const deviates = (seed: number, index: number): Deviates => deviatesOf(stream(seed, index));

/** Normal by Box and Muller (1958), in pairs; a direction from an even height and an even angle (Archimedes). */
export function deviatesOf(next: NextWord): Deviates {
  let spare = Number.NaN;
  const uniform = () => (next() + 0.5) / 4294967296;
  const normal = () => {
    if (!Number.isNaN(spare)) {
      const second = spare;
      spare = Number.NaN;
      return second;
    }
    const radius = Math.sqrt(-2 * Math.log(uniform()));
    const angle = 2 * Math.PI * uniform();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
  const direction = (): [number, number, number] => {
    const z = 2 * uniform() - 1;
    const angle = 2 * Math.PI * uniform();
    const r = Math.sqrt(1 - z * z);
    return [r * Math.cos(angle), r * Math.sin(angle), z];
  };
  return { uniform, normal, direction };
}
