/** Stages in the order the engine passes them; those of the second line only where they are asked for. */
export const STAGES = [
  ...(['tiling', 'lattice', 'mass', 'balance', 'slices', 'build'] as const),
  ...(['compression', 'vibration', 'drop', 'throw', 'life', 'motion', 'variation'] as const),
  ...(['printability', 'targets'] as const),
] as const;
export type Stage = (typeof STAGES)[number];

/** Of the making of a file. */
export const FILE_STAGES = ['shape', 'file'] as const;
/** Of a calibration. */
export const CALIBRATION_STAGES = ['responses', 'fit'] as const;
/** Of the fitting of surfaces. */
export const SURFACE_STAGES = ['surfaces'] as const;
/** Of the planning of a tray. */
export const TRAY_STAGES = ['parts', 'packing'] as const;
