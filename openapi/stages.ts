/** Stages in the order the engine passes them. */
export const STAGES = ['tiling', 'lattice', 'mass', 'balance', 'slices', 'printability', 'build', 'targets'] as const;
export type Stage = (typeof STAGES)[number];
