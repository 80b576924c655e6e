/**
 * How joints stiffen the ends of struts: near each end the strut gives nothing over a length of its own for each way to deform. Two entries per strut
 * (its end 0, its end 1), mm; `normal` is a unit vector in the cross-section, 3 per entry.
 */
export interface EndZones {
  readonly axial: Float64Array;
  readonly torsion: Float64Array;
  readonly shear: Float64Array;
  /** Bending about `normal`. */
  readonly bending: Float64Array;
  /** Bending about the direction of the cross-section at right angles to `normal`. */
  readonly bendingAcross: Float64Array;
  readonly normal: Float64Array;
}

/** What one end of a strut sees of it; `n2` and `n3` are the components of the normal along e2 and e3. */
export interface Zone {
  readonly axial: number;
  readonly torsion: number;
  readonly shear: number;
  readonly bending: number;
  readonly bendingAcross: number;
  readonly n2: number;
  readonly n3: number;
}

export const NO_ZONE: Zone = { axial: 0, torsion: 0, shear: 0, bending: 0, bendingAcross: 0, n2: 1, n3: 0 };

/** Zone of end `end` (0 or 1) of strut s, whose triad (e1, e2, e3 as rows) starts at triads[9 s]. */
export function zoneOf(zones: EndZones, s: number, end: 0 | 1, triads: Float64Array): Zone {
  const k = 2 * s + end;
  const dot = (row: number) => {
    const at = 9 * s + 3 * row;
    return triads[at] * zones.normal[3 * k] + triads[at + 1] * zones.normal[3 * k + 1] + triads[at + 2] * zones.normal[3 * k + 2];
  };
  return {
    axial: zones.axial[k],
    torsion: zones.torsion[k],
    shear: zones.shear[k],
    bending: zones.bending[k],
    bendingAcross: zones.bendingAcross[k],
    n2: dot(1),
    n3: dot(2),
  };
}
