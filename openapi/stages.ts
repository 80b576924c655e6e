/** Stages in the order the engine passes them; those of mechanics and variation only where they are asked for. */
export const STAGES = [
  ...(['tiling', 'lattice', 'mass', 'balance', 'slices'] as const),
  ...(['compression', 'vibration', 'drop', 'life', 'variation'] as const),
  ...(['printability', 'build', 'targets'] as const),
] as const;
export type Stage = (typeof STAGES)[number];
