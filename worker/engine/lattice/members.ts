import type { Lattice } from './graph.ts';

/** Straight members from node to node: the spans, then the struts of braces. The halves of a tapered span count as one member. */
export interface Members {
  /** Length of each, mm. */
  readonly lengthMm: Float64Array;
  /** Largest diameter along each, mm. */
  readonly diameterMm: Float64Array;
  /** Member that each strut of the graph is part of. */
  readonly ofStrut: Int32Array;
}

export function membersOf({ graph, spanOf, spanCount, spanDiameterMm }: Lattice): Members {
  const { xyz, ends, diameters, strutCount } = graph;
  const count = spanCount + strutCount - spanOf.length;
  const lengthMm = new Float64Array(count);
  const diameterMm = new Float64Array(count);
  diameterMm.set(spanDiameterMm);
  const ofStrut = Int32Array.from({ length: strutCount }, (_, s) => (s < spanOf.length ? spanOf[s] : spanCount + s - spanOf.length));
  for (let s = 0; s < strutCount; s++) {
    const [a, b] = [3 * ends[2 * s], 3 * ends[2 * s + 1]];
    lengthMm[ofStrut[s]] += Math.hypot(xyz[b] - xyz[a], xyz[b + 1] - xyz[a + 1], xyz[b + 2] - xyz[a + 2]);
    if (s >= spanOf.length) diameterMm[ofStrut[s]] = Math.max(diameters[2 * s], diameters[2 * s + 1]);
  }
  return { lengthMm, diameterMm, ofStrut };
}
