import type { StrutGraph } from '../lattice/index.ts';
import { type EndZones, NO_ZONE, zoneOf } from './end-zones.ts';
import { strutFlexibility } from './strut-flexibility.ts';

/** Struts as elastic members: the one type that statics, vibration, compression and the drop take. */
export interface StrutFrame {
  readonly graph: StrutGraph;
  /** Between node centres, strutCount. */
  readonly lengthMm: Float64Array;
  /** 9 per strut: the unit axis e1 from end 0 to end 1, then e2 and e3 = e1 x e2 in the cross-section. */
  readonly triads: Float64Array;
  /**
   * Stiffness by the six deformations, 12 per strut: axial (N/mm), twist (N mm/rad), then the upper triangle by rows of bending over (phi0 about e2,
   * phi0 about e3, phi1 about e2, phi1 about e3), N mm/rad, phi being the rotation of an end's section relative to the chord.
   */
  readonly natural: Float64Array;
}

export const NATURAL = 12;

/**
 * Timoshenko struts of a graph, round and linearly tapered, exact for loads at the ends. `zones` tells how joints stiffen the ends; without it
 * struts run from node centre to node centre at full flexibility, which is softer than the solid by up to a quarter where they are short.
 */
export function strutFrame(
  graph: StrutGraph,
  { modulusMPa, poisson, poll }: { modulusMPa: number; poisson: number; poll?: () => void },
  zones?: EndZones,
): StrutFrame {
  const { strutCount, diameters } = graph;
  const { lengthMm, triads } = triadsOf(graph);
  const natural = new Float64Array(NATURAL * strutCount);
  for (let s = 0; s < strutCount; s++) {
    poll?.();
    const strut = { lengthMm: lengthMm[s], diameter0: diameters[2 * s], diameter1: diameters[2 * s + 1], modulusMPa, poisson };
    const [zone0, zone1] = zones ? [zoneOf(zones, s, 0, triads), zoneOf(zones, s, 1, triads)] : [NO_ZONE, NO_ZONE];
    const { axial, twist, bending } = strutFlexibility(strut, zone0, zone1);
    natural[NATURAL * s] = 1 / axial;
    natural[NATURAL * s + 1] = 1 / twist;
    inverseUpper(bending, natural, NATURAL * s + 2);
  }
  return { graph, lengthMm, triads, natural };
}

/** Length and triad of every strut of a graph, as in its frame. */
export function triadsOf({ strutCount, ends, xyz }: StrutGraph): { lengthMm: Float64Array; triads: Float64Array } {
  const lengthMm = new Float64Array(strutCount);
  const triads = new Float64Array(9 * strutCount);
  for (let s = 0; s < strutCount; s++) lengthMm[s] = triad(xyz, 3 * ends[2 * s], 3 * ends[2 * s + 1], triads, 9 * s);
  return { lengthMm, triads };
}

/** Writes e1, e2, e3 of the strut between the nodes at a and b of xyz; answers its length. */
function triad(xyz: Float64Array, a: number, b: number, triads: Float64Array, at: number): number {
  const [x, y, z] = [xyz[b] - xyz[a], xyz[b + 1] - xyz[a + 1], xyz[b + 2] - xyz[a + 2]];
  const length = Math.hypot(x, y, z);
  triads[at] = x / length;
  triads[at + 1] = y / length;
  triads[at + 2] = z / length;
  // e2 is at right angles to e1 and to the coordinate axis that e1 is farthest from.
  const size = [Math.abs(x), Math.abs(y), Math.abs(z)];
  const axis = size.indexOf(Math.min(...size));
  const [i, j, k] = [axis, (axis + 1) % 3, (axis + 2) % 3];
  const across = Math.hypot(triads[at + j], triads[at + k]);
  triads[at + 3 + i] = 0;
  triads[at + 3 + j] = -triads[at + k] / across;
  triads[at + 3 + k] = triads[at + j] / across;
  for (let c = 0; c < 3; c++) {
    const [p, q] = [(c + 1) % 3, (c + 2) % 3];
    triads[at + 6 + c] = triads[at + p] * triads[at + 3 + q] - triads[at + q] * triads[at + 3 + p];
  }
  return length;
}

/** Upper triangle by rows of the inverse of a symmetric positive definite 4 x 4 matrix, by its Cholesky factor; `matrix` is overwritten. */
function inverseUpper(matrix: Float64Array, out: Float64Array, at: number): void {
  const n = 4;
  // L in the lower triangle, then its inverse in the same place, then the product of that with its transpose.
  for (let j = 0; j < n; j++) {
    for (let i = j; i < n; i++) {
      let sum = matrix[n * i + j];
      for (let k = 0; k < j; k++) sum -= matrix[n * i + k] * matrix[n * j + k];
      matrix[n * i + j] = i === j ? Math.sqrt(sum) : sum / matrix[n * j + j];
    }
  }
  for (let j = 0; j < n; j++) {
    matrix[n * j + j] = 1 / matrix[n * j + j];
    for (let i = j + 1; i < n; i++) {
      let sum = 0;
      for (let k = j; k < i; k++) sum -= matrix[n * i + k] * matrix[n * k + j];
      matrix[n * i + j] = sum / matrix[n * i + i];
    }
  }
  let next = at;
  for (let i = 0; i < n; i++) {
    for (let j = i; j < n; j++) {
      let sum = 0;
      for (let k = j; k < n; k++) sum += matrix[n * k + i] * matrix[n * k + j];
      out[next++] = sum;
    }
  }
}
