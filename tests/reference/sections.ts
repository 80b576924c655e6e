import { type StrutFrame, strutFrame } from '../../worker/engine/frame/index.ts';
import type { StrutGraph } from '../../worker/engine/lattice/index.ts';
import { graphOf } from '../engine/impact/lattices.ts';

/** A prismatic section with principal axes: A, second moments for bending about the axes 2 and 3, torsion constant, shear areas along 3 and 2. */
export interface Section {
  readonly modulus: number;
  readonly shearModulus: number;
  readonly area: number;
  readonly inertia2: number;
  readonly inertia3: number;
  readonly torsion: number;
  /** kappa A for shear along axis 3 (with bending about 2) and along axis 2; infinite: no shear flexibility. */
  readonly shearArea2: number;
  readonly shearArea3: number;
}

/** Open chain of struts through the places. */
export function chain(places: readonly (readonly number[])[], diameterMm = 1): StrutGraph {
  return graphOf(
    places,
    places.slice(1).map((_, k) => [k, k + 1] as const),
    diameterMm,
  );
}

/** Closed ring of `count` struts on a circle in the plane z = 0, first node at (R, 0, 0). */
export function ring(count: number, radius: number, diameterMm: number): StrutGraph {
  const places = Array.from({ length: count }, (_, k) => {
    const angle = (2 * Math.PI * k) / count;
    return [radius * Math.cos(angle), radius * Math.sin(angle), 0];
  });
  return graphOf(
    places,
    places.map((_, k) => [k, (k + 1) % count] as const),
    diameterMm,
  );
}

/** A frame of any section, axis 3 as near to `up` as the strut allows: rectangular beams for published benchmarks, which round struts cannot be. */
export function sectionFrame(graph: StrutGraph, section: Section, up: readonly [number, number, number]): StrutFrame {
  const round = strutFrame(graph, { modulusMPa: 1, poisson: 0.3 });
  const natural = new Float64Array(12 * graph.strutCount);
  const triads = round.triads.slice();
  for (let s = 0; s < graph.strutCount; s++) {
    const L = round.lengthMm[s];
    const e1 = [...triads.subarray(9 * s, 9 * s + 3)];
    const share = up.reduce((sum, each, k) => sum + each * e1[k], 0);
    const raw = up.map((each, k) => each - share * e1[k]);
    const e3 = raw.map((each) => each / Math.hypot(...raw));
    const e2 = [e3[1] * e1[2] - e3[2] * e1[1], e3[2] * e1[0] - e3[0] * e1[2], e3[0] * e1[1] - e3[1] * e1[0]];
    triads.set([...e2, ...e3], 9 * s + 3);
    const [near2, far2] = bending(section.modulus * section.inertia2, section.shearModulus * section.shearArea2, L);
    const [near3, far3] = bending(section.modulus * section.inertia3, section.shearModulus * section.shearArea3, L);
    natural.set(
      [
        (section.modulus * section.area) / L,
        (section.shearModulus * section.torsion) / L,
        near2,
        0,
        far2,
        0,
        near3,
        0,
        far3,
        near2,
        0,
        near3,
      ],
      12 * s,
    );
  }
  return { graph, lengthMm: round.lengthMm, triads, natural };
}

function bending(EI: number, shearStiffness: number, L: number): [number, number] {
  const Phi = (12 * EI) / (shearStiffness * L * L);
  const unit = EI / (L * (1 + Phi));
  return [(4 + Phi) * unit, (2 - Phi) * unit];
}
