/** Stages in the order the engine passes them; those of mechanics only at a depth that has them. */
export const STAGES = [
  ...(['tiling', 'lattice', 'mass', 'balance', 'slices'] as const),
  ...(['compression', 'vibration', 'drop', 'life'] as const),
  ...(['printability', 'build', 'targets'] as const),
] as const;
export type Stage = (typeof STAGES)[number];
