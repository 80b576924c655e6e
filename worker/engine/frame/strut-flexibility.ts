import type { Zone } from './end-zones.ts';

/** A round strut: length, diameters at end 0 and end 1 (linear between), Young's modulus, Poisson's ratio. mm, MPa. */
export interface RoundStrut {
  readonly lengthMm: number;
  readonly diameter0: number;
  readonly diameter1: number;
  readonly modulusMPa: number;
  readonly poisson: number;
}

/** A stretch of a strut with one set of factors: from and to as shares of the length. */
interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly zone: Zone | null;
}

/** Shear coefficient of a solid round section (Cowper 1966): 6 (1 + nu) / (7 + 6 nu). */
export const shearCoefficient = (poisson: number): number => (6 * (1 + poisson)) / (7 + 6 * poisson);

/**
 * Flexibility of a strut over its six deformations (stretch, phi0 about e2, phi0 about e3, phi1 about e2, phi1 about e3, twist): axial mm/N, twist
 * rad/(N mm), bending 4 x 4 by rows. Exact integrals of the Timoshenko section flexibilities along the taper, each times its zone's factor:
 *   axial: 1/(E A),  twist: 1/(G J),  bending: N^T D N / (E I) + shear / (kappa G A L^2), with N = [1 - x/L, -x/L] for each axis.
 * With d linear the integrals are Beta functions: of (1-y)^a y^b / d^(a+b+2) over a stretch they are a! b! / ((a+b+1)! d0^(a+1) d1^(b+1)).
 */
export function strutFlexibility(strut: RoundStrut, zone0: Zone, zone1: Zone): { axial: number; twist: number; bending: Float64Array } {
  const { lengthMm: L, modulusMPa: E, poisson } = strut;
  const G = E / (2 * (1 + poisson));
  const bending = new Float64Array(16);
  let [axial, twist] = [0, 0];
  for (const stretch of stretchesOf(L, zone0, zone1)) {
    const { zone } = stretch;
    const length = L * (stretch.to - stretch.from);
    const [a, b] = [diameterAt(strut, stretch.from), diameterAt(strut, stretch.to)];
    const overArea = (4 * length) / (Math.PI * a * b);
    const overInertia = (64 * length) / (3 * Math.PI * a * a * a * b * b * b);
    axial += ((zone?.axial ?? 1) * overArea) / E;
    twist += ((zone?.torsion ?? 1) * (overInertia / 2) * (a * a + a * b + b * b)) / G;
    addShear(bending, ((zone?.shear ?? 1) * overArea) / (shearCoefficient(poisson) * G * L * L));
    addBending(bending, stretch, a, b, overInertia / E);
  }
  return { axial, twist, bending };
}

const diameterAt = ({ diameter0, diameter1 }: RoundStrut, x: number): number => diameter0 + (diameter1 - diameter0) * x;

/** The zone of end 0, the free part, the zone of end 1. Zones that would meet share the strut in proportion. */
function stretchesOf(L: number, zone0: Zone, zone1: Zone): Stretch[] {
  const squeeze = Math.max(1, (zone0.lengthMm + zone1.lengthMm) / L);
  const [near, far] = [zone0.lengthMm / L / squeeze, 1 - zone1.lengthMm / L / squeeze];
  const all = [
    { from: 0, to: near, zone: zone0 },
    { from: near, to: far, zone: null },
    { from: far, to: 1, zone: zone1 },
  ];
  return all.filter(({ from, to }) => to > from);
}

/** A constant shear force (M0 + M1) / L goes with end moments M0 and M1: both ends and both planes get the same share. */
function addShear(bending: Float64Array, share: number): void {
  for (const [i, j] of [
    [0, 0],
    [0, 2],
    [2, 0],
    [2, 2],
  ]) {
    bending[4 * i + j] += share;
    bending[4 * i + j + 5] += share;
  }
}

/** Moments by unit end moments run linearly: (1 - x/L) from end 0, -x/L from end 1. */
function addBending(bending: Float64Array, { from, to, zone }: Stretch, a: number, b: number, overInertia: number): void {
  const start = [1 - from, -from];
  const finish = [1 - to, -to];
  const [d22, d23, d33] = zone?.bending ?? [1, 0, 1];
  for (let i = 0; i < 2; i++) {
    for (let j = 0; j < 2; j++) {
      const both = (start[i] * finish[j] + finish[i] * start[j]) / 2;
      const share = overInertia * (start[i] * start[j] * b * b + both * a * b + finish[i] * finish[j] * a * a);
      const at = 8 * i + 2 * j;
      bending[at] += share * d22;
      bending[at + 1] += share * d23;
      bending[at + 4] += share * d23;
      bending[at + 5] += share * d33;
    }
  }
}
