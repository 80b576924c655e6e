import { type Placement, strutDeformations } from '../frame/index.ts';
import { FIBRE_NUMBERS } from './account-program.ts';
import type { ElasticFrame } from './model.ts';

export interface PeakStrain {
  readonly strain: number;
  readonly strut: number;
  readonly node: number;
}

/** Largest strain of an outermost fibre over all faces where struts leave their node spheres: |axial| / (E A) + r |moment| / (E I); fibres by `fibresOf`. */
export function peakStrain(frame: ElasticFrame, placement: Placement, fibres: Float64Array): PeakStrain {
  const { graph, natural } = frame;
  const [q, p] = [new Float64Array(6), new Float64Array(6)];
  let peak: PeakStrain = { strain: 0, strut: 0, node: graph.ends[0] };
  for (let s = 0; s < graph.strutCount; s++) {
    strutDeformations(frame, s, placement, q);
    naturalForces(natural, s, q, p);
    for (let end = 0; end < 2; end++) {
      const at = FIBRE_NUMBERS * s + 3 * end;
      const [m2, m3] = [fibres[at] * (p[1] + p[3]) - p[1], fibres[at] * (p[2] + p[4]) - p[2]];
      const strain = fibres[at + 1] * Math.abs(p[0]) + fibres[at + 2] * Math.sqrt(m2 * m2 + m3 * m3);
      if (strain > peak.strain) peak = { strain, strut: s, node: graph.ends[2 * s + end] };
    }
  }
  return peak;
}

/** The strut that a small move deforms most, by the energy of its change of deformations. */
export function mostDeformed(frame: ElasticFrame, before: Placement, after: Placement): number {
  const [q, other, p] = [new Float64Array(6), new Float64Array(6), new Float64Array(6)];
  let [most, strut] = [-1, 0];
  for (let s = 0; s < frame.graph.strutCount; s++) {
    strutDeformations(frame, s, before, q);
    strutDeformations(frame, s, after, other);
    for (let k = 0; k < 6; k++) q[k] = other[k] - q[k];
    naturalForces(frame.natural, s, q, p);
    const energy = p.reduce((sum, each, k) => sum + each * q[k], 0);
    if (energy > most) [most, strut] = [energy, s];
  }
  return strut;
}

/** p = K q. */
function naturalForces(K: Float64Array, s: number, q: Float64Array, p: Float64Array): void {
  const k = 12 * s;
  p[0] = K[k] * q[0];
  p[1] = K[k + 2] * q[1] + K[k + 3] * q[2] + K[k + 4] * q[3] + K[k + 5] * q[4];
  p[2] = K[k + 3] * q[1] + K[k + 6] * q[2] + K[k + 7] * q[3] + K[k + 8] * q[4];
  p[3] = K[k + 4] * q[1] + K[k + 7] * q[2] + K[k + 9] * q[3] + K[k + 10] * q[4];
  p[4] = K[k + 5] * q[1] + K[k + 8] * q[2] + K[k + 10] * q[3] + K[k + 11] * q[4];
  p[5] = K[k + 1] * q[5];
}
