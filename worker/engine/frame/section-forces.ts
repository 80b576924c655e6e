import { NODE_UNKNOWNS } from './assembly.ts';
import type { StrutFrame } from './strut-frame.ts';
import { deformationRows, naturalForces } from './strut-matrices.ts';

const rows = new Float64Array(72);

/** The six deformations of strut s under small displacements of all unknowns, into `q`: mm, rad. */
export function strutDeformation(frame: StrutFrame, s: number, displacement: Float64Array, q: Float64Array): void {
  deformationRows(frame, s, rows);
  const { ends } = frame.graph;
  q.fill(0);
  for (let i = 0; i < 12; i++) {
    const value = displacement[NODE_UNKNOWNS * ends[2 * s + (i < NODE_UNKNOWNS ? 0 : 1)] + (i % NODE_UNKNOWNS)];
    for (let d = 0; d < 6; d++) q[d] += rows[12 * d + i] * value;
  }
}

/** The largest strain of an outermost fibre, and where. */
export interface PeakStrain {
  readonly strain: number;
  readonly strut: number;
  /** 0 or 1: the end whose face it is. */
  readonly end: number;
}

/**
 * Largest surface strain of a frame under small displacements: |N| / (E A) + |M| r / (E I), taken at the faces where struts leave their node spheres
 * (inside, the joint carries it). `modulusMPa` is the one the frame was built for.
 */
export function peakStrain(frame: StrutFrame, displacement: Float64Array, modulusMPa: number): PeakStrain {
  const { graph, lengthMm } = frame;
  const [q, forces] = [new Float64Array(6), new Float64Array(6)];
  let peak: PeakStrain = { strain: 0, strut: 0, end: 0 };
  for (let s = 0; s < graph.strutCount; s++) {
    strutDeformation(frame, s, displacement, q);
    naturalForces(frame, s, q, forces);
    for (let end = 0; end < 2; end++) {
      const share = Math.min(0.5, graph.nodeRadius[graph.ends[2 * s + end]] / lengthMm[s]);
      const x = end === 0 ? share : 1 - share;
      const d = graph.diameters[2 * s] * (1 - x) + graph.diameters[2 * s + 1] * x;
      const moment = Math.hypot((1 - x) * forces[1] - x * forces[3], (1 - x) * forces[2] - x * forces[4]);
      const strain = (4 * Math.abs(forces[0])) / (Math.PI * modulusMPa * d ** 2) + (32 * moment) / (Math.PI * modulusMPa * d ** 3);
      if (strain > peak.strain) peak = { strain, strut: s, end };
    }
  }
  return peak;
}
