/**
 * How joints stiffen the ends of struts: near each end the strut's section flexibilities count only in part. Two entries per strut (its end 0, its
 * end 1), factors from 0 (rigid) to 1 (as a free strut); `normal` is a unit vector in the cross-section, 3 per entry: bending about it is bending in
 * the joint's plane.
 */
export interface EndZones {
  readonly lengthMm: Float64Array;
  readonly axial: Float64Array;
  readonly torsion: Float64Array;
  readonly shear: Float64Array;
  readonly bendingInPlane: Float64Array;
  readonly bendingOutOfPlane: Float64Array;
  readonly normal: Float64Array;
}

/** The part of a strut's end zone that one strut sees: its length, factors, and the factors of bending over (e2, e3), as [22, 23, 33]. */
export interface Zone {
  readonly lengthMm: number;
  readonly axial: number;
  readonly torsion: number;
  readonly shear: number;
  readonly bending: readonly [number, number, number];
}

export const NO_ZONE: Zone = { lengthMm: 0, axial: 1, torsion: 1, shear: 1, bending: [1, 0, 1] };

/** Zone of end `end` (0 or 1) of strut s, whose triad (e1, e2, e3 as rows) starts at triads[9 s]. */
export function zoneOf(zones: EndZones, s: number, end: 0 | 1, triads: Float64Array): Zone {
  const k = 2 * s + end;
  const lengthMm = zones.lengthMm[k];
  if (!(lengthMm > 0)) return NO_ZONE;
  const dot = (row: number) => {
    const at = 9 * s + 3 * row;
    return triads[at] * zones.normal[3 * k] + triads[at + 1] * zones.normal[3 * k + 1] + triads[at + 2] * zones.normal[3 * k + 2];
  };
  const [n2, n3] = [dot(1), dot(2)];
  const [within, across] = [zones.bendingInPlane[k], zones.bendingOutOfPlane[k]];
  const difference = within - across;
  return {
    lengthMm,
    axial: zones.axial[k],
    torsion: zones.torsion[k],
    shear: zones.shear[k],
    bending: [across + difference * n2 * n2, difference * n2 * n3, across + difference * n3 * n3],
  };
}
