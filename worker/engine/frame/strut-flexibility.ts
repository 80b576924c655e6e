import type { Zone } from './end-zones.ts';

/** A round strut: length, diameters at end 0 and end 1 (linear between), Young's modulus, Poisson's ratio. mm, MPa. */
export interface RoundStrut {
  readonly lengthMm: number;
  readonly diameter0: number;
  readonly diameter1: number;
  readonly modulusMPa: number;
  readonly poisson: number;
}

/** Share of a strut that its two end zones may take together; zones that would take more share it in proportion. */
const MOST_RIGID = 0.8;

/** Shear coefficient of a solid round section (Cowper 1966): 6 (1 + nu) / (7 + 6 nu). */
export const shearCoefficient = (poisson: number): number => (6 * (1 + poisson)) / (7 + 6 * poisson);

/**
 * Flexibility of a strut over its six deformations (stretch, phi0 about e2, phi0 about e3, phi1 about e2, phi1 about e3, twist): axial mm/N, twist
 * rad/(N mm), bending 4 x 4 by rows. Exact integrals of the Timoshenko section flexibilities along the taper, without the zones at the ends:
 *   axial: 1/(E A),  twist: 1/(G J),  bending: N^T N / (E I) + 1/(kappa G A L^2), with N = [1 - x/L, -x/L] for each axis.
 * With d linear the integrals are Beta functions: of (1-y)^a y^b / d^(a+b+2) over a stretch they are a! b! / ((a+b+1)! d0^(a+1) d1^(b+1)).
 */
export function strutFlexibility(strut: RoundStrut, zone0: Zone, zone1: Zone): { axial: number; twist: number; bending: Float64Array } {
  const { lengthMm: L, modulusMPa: E, poisson } = strut;
  const G = E / (2 * (1 + poisson));
  const bending = new Float64Array(16);
  addBending(bending, strut, [0, 1], WHOLE, 1);
  const widest = [zone0, zone1].map(({ bending: one, bendingAcross: other }) => Math.max(one, other));
  const squeeze = squeezeOf(widest[0], widest[1], L);
  removeZone(bending, strut, zone0, squeeze, (share) => [0, share]);
  removeZone(bending, strut, zone1, squeeze, (share) => [1 - share, 1]);
  addShear(bending, overArea(strut, between(zone0.shear, zone1.shear, L)) / (shearCoefficient(poisson) * G * L * L));
  return {
    axial: overArea(strut, between(zone0.axial, zone1.axial, L)) / E,
    twist: overPolar(strut, between(zone0.torsion, zone1.torsion, L)) / G,
    bending,
  };
}

const squeezeOf = (near: number, far: number, L: number): number => Math.max(1, (near + far) / (MOST_RIGID * L));

/** What two zones leave of a strut, as shares of its length. */
function between(near: number, far: number, L: number): [number, number] {
  const squeeze = squeezeOf(near, far, L);
  return [near / L / squeeze, 1 - far / L / squeeze];
}

const diameterAt = ({ diameter0, diameter1 }: RoundStrut, x: number): number => diameter0 + (diameter1 - diameter0) * x;

/** Integral of 1/A over a stretch. */
function overArea(strut: RoundStrut, [from, to]: readonly [number, number]): number {
  return (4 * strut.lengthMm * (to - from)) / (Math.PI * diameterAt(strut, from) * diameterAt(strut, to));
}

/** Integral of 1/J over a stretch. */
function overPolar(strut: RoundStrut, [from, to]: readonly [number, number]): number {
  const [a, b] = [diameterAt(strut, from), diameterAt(strut, to)];
  return (32 * strut.lengthMm * (to - from) * (a * a + a * b + b * b)) / (3 * Math.PI * (a * b) ** 3);
}

/** A constant shear force (M0 + M1) / L goes with end moments M0 and M1: both ends and both planes get the same share. */
function addShear(bending: Float64Array, share: number): void {
  for (const at of [0, 2, 8, 10]) {
    bending[at] += share;
    bending[at + 5] += share;
  }
}

/** Bending about both axes alike, as [22, 23, 33] over (e2, e3). */
const WHOLE = [1, 0, 1] as const;

/** Takes a zone's two lengths away, each about its own direction. */
function removeZone(
  bending: Float64Array,
  strut: RoundStrut,
  zone: Zone,
  squeeze: number,
  stretch: (share: number) => [number, number],
): void {
  const { n2, n3 } = zone;
  const share = (length: number) => length / squeeze / strut.lengthMm;
  addBending(bending, strut, stretch(share(zone.bending)), [n2 * n2, n2 * n3, n3 * n3], -1);
  addBending(bending, strut, stretch(share(zone.bendingAcross)), [n3 * n3, -n2 * n3, n2 * n2], -1);
}

/** Moments by unit end moments run linearly: (1 - x/L) from end 0, -x/L from end 1. */
function addBending(
  bending: Float64Array,
  strut: RoundStrut,
  [from, to]: readonly [number, number],
  [d22, d23, d33]: readonly [number, number, number],
  sign: 1 | -1,
): void {
  const [a, b] = [diameterAt(strut, from), diameterAt(strut, to)];
  const factor = (sign * 64 * strut.lengthMm * (to - from)) / (3 * Math.PI * strut.modulusMPa * (a * b) ** 3);
  const start = [1 - from, -from];
  const finish = [1 - to, -to];
  for (let i = 0; i < 2; i++) {
    for (let j = 0; j < 2; j++) {
      const both = (start[i] * finish[j] + finish[i] * start[j]) / 2;
      const share = factor * (start[i] * start[j] * b * b + both * a * b + finish[i] * finish[j] * a * a);
      const at = 8 * i + 2 * j;
      bending[at] += share * d22;
      bending[at + 1] += share * d23;
      bending[at + 4] += share * d23;
      bending[at + 5] += share * d33;
    }
  }
}
