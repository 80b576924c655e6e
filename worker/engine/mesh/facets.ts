/** Widest step between two vertices of a curve round a body, radians: a body has at least six sides however coarse its mesh. */
const WIDEST = Math.PI / 3;

/**
 * Angle between two points of a circle (radius r, mm) whose chord stays within `chordMm` of it: r (1 - cos(step / 2)) = chord.
 */
export const stepAngle = (radius: number, chordMm: number): number =>
  chordMm >= radius ? WIDEST : Math.min(WIDEST, 2 * Math.acos(1 - chordMm / radius));

/** Share of the chord tolerance within which vertices count as one; so no two of a mesh are nearer. */
const WELD = 0.02;
/** Least weld, mm: two floats of 32 bits near 300 mm are 3e-5 apart, and vertices may not meet in files that hold such. */
const LEAST_WELD_MM = 2e-4;
const MOST_WELD_MM = 1e-3;

export const weldOf = (chordMm: number): number => Math.min(MOST_WELD_MM, Math.max(LEAST_WELD_MM, WELD * chordMm));
