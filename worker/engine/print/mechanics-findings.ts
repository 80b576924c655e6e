/**
 * What the checks read of mechanics, in plain figures so that this room needs none of theirs. null: not computed, or not found out. Struts and
 * cells are numbered as in the lattice.
 */
export interface MechanicsFindings {
  /** The worst over all orientations of a drop. */
  readonly bounce: {
    readonly dropHeightMm: number;
    readonly peakForceN: number;
    readonly peakStrainPct: number;
    /** Where the strain peaks. */
    readonly strut: number | null;
  } | null;
  /** How far the squeeze between plates went, and where the first strut buckled on the way; first: null where none did. */
  readonly buckling: {
    readonly toDeflectionMm: number;
    readonly toForceN: number;
    readonly first: { readonly deflectionMm: number; readonly forceN: number; readonly strut: number | null } | null;
  } | null;
  /** Clear openings of the cells, per layer as in Openings.cells, where the part is squeezed most. */
  readonly squeezed: { readonly deflectionMm: number; readonly cells: readonly Float64Array[] } | null;
  /** Bounces that all but one in forty parts last: the lower end of the 95 % band. */
  readonly life: { readonly fromCycles: number; readonly strut: number | null } | null;
  /** Peak force that an inflated original is estimated to have in the same drop, where nobody measured it. */
  readonly estimatedOriginalPeakForceN: number | null;
}
