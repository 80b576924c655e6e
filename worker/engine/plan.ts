import type { MechanicsTests } from './mechanics.ts';

/** Milliseconds that each stage takes for the training ball on one core, as measured: the parts of the progress told. */
const SHAPE_MS = { tiling: 70, lattice: 90, mass: 40, balance: 110, slices: 480, build: 70 };
const STATIC_MS = { compression: 800, vibration: 720 };
const BOUNCE_MS = 110;
const ROLL_MS = 170;
const WEIGHED_PART_MS = 0.5;
const VERDICT_MS = { printability: 25, targets: 1 };
const USUAL_ORIENTATIONS = 6;

export type Stage =
  | keyof typeof SHAPE_MS
  | keyof typeof STATIC_MS
  | 'drop'
  | 'throw'
  | 'life'
  | 'motion'
  | 'variation'
  | keyof typeof VERDICT_MS;

/** The stages of an evaluation in their order, with the time each takes. */
export function planOf({ depth, drop, motion, variation }: MechanicsTests): [Stage, number][] {
  const bouncesMs = BOUNCE_MS * (drop?.orientations ?? USUAL_ORIENTATIONS);
  const times = {
    ...SHAPE_MS,
    ...(depth === 'geometry' ? {} : STATIC_MS),
    ...(depth === 'full' ? { drop: bouncesMs, throw: drop?.oblique ? bouncesMs : 0, life: 1 } : {}),
    ...(motion ? { motion: ROLL_MS * (motion.roll?.starts ?? 0) + 1 } : {}),
    ...(variation ? { variation: WEIGHED_PART_MS * variation.parts + (depth === 'full' ? BOUNCE_MS * variation.bouncingParts : 0) } : {}),
    ...VERDICT_MS,
  };
  return Object.entries(times) as [Stage, number][];
}
