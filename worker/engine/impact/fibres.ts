import type { ElasticFrame, Model } from './model.ts';

/** What turns a strut's natural forces into the strain of its outermost fibre at the faces where it leaves its node spheres; 2 numbers each a strut. */
export interface Fibres {
  /** Where the face lies, as a share of the length from end 0. */
  readonly place: Float64Array;
  /** 1 / (E A), 1/N. */
  readonly axial: Float64Array;
  /** r / (E I), 1/(N mm). */
  readonly bending: Float64Array;
}

/** The faces of a round strut, straight taper; modulusMPa is the one the natural stiffness holds for. Faces do not pass mid-span. */
export function fibresOf({ graph, lengthMm }: ElasticFrame, { strutOf }: Model, modulusMPa: number): Fibres {
  const faces = 2 * graph.strutCount;
  const fibres = { place: new Float64Array(faces), axial: new Float64Array(faces), bending: new Float64Array(faces) };
  strutOf.forEach((s, at) => {
    for (let end = 0; end < 2; end++) {
      const share = Math.min(0.5, graph.nodeRadius[graph.ends[2 * s + end]] / lengthMm[s]);
      const diameter = graph.diameters[2 * s + end] * (1 - share) + graph.diameters[2 * s + 1 - end] * share;
      const face = 2 * at + end;
      fibres.place[face] = end === 0 ? share : 1 - share;
      fibres.axial[face] = 4 / (Math.PI * modulusMPa * diameter ** 2);
      fibres.bending[face] = 32 / (Math.PI * modulusMPa * diameter ** 3);
    }
  });
  return fibres;
}

/**
 * Largest strain (axial and bending added) of the outermost fibre at one face of strut s, from its natural forces (6, at the modulus of the fibres).
 * The moment runs straight from -moment of end 0 to that of end 1.
 */
export function strainAt({ place, axial, bending }: Fibres, s: number, end: number, force: Float64Array): number {
  const face = 2 * s + end;
  const x = place[face];
  const m2 = x * force[3] - (1 - x) * force[1];
  const m3 = x * force[4] - (1 - x) * force[2];
  return axial[face] * Math.abs(force[0]) + bending[face] * Math.sqrt(m2 * m2 + m3 * m3);
}
