import type { Tiling } from './tiling.ts';

export interface TilingStatistics {
  /** Edge lengths on the unit sphere. */
  readonly edge: { readonly min: number; readonly mean: number; readonly max: number; readonly sum: number };
  /** Lengths that differ by more than 1e-6 of the mean. */
  readonly distinctLengths: number;
  /** Angles between neighbouring edges of a cell, degrees. */
  readonly faceAngleDeg: { readonly min: number; readonly max: number };
  readonly pentagonCount: number;
  readonly hexagonCount: number;
  /** Edges whose ends lie on different sides of z = 0. */
  readonly edgesAcrossSplitPlane: number;
}

/** Nodes closer to z = 0 than this (unit sphere) lie in the plane. */
const IN_PLANE = 1e-9;

export function statistics(tiling: Tiling): TilingStatistics {
  const { xyz, edges, cellPtr } = tiling;
  const lengths = edgeLengths(tiling);
  const sum = lengths.reduce((total, length) => total + length, 0);
  const mean = sum / lengths.length;
  const ascending = Float64Array.from(lengths).sort();
  let distinctLengths = 1;
  for (let k = 1; k < ascending.length; k++) if (ascending[k] - ascending[k - 1] > 1e-6 * mean) distinctLengths++;
  const sides = Array.from({ length: tiling.cellCount }, (_, c) => cellPtr[c + 1] - cellPtr[c]);
  const height = (end: number) => xyz[3 * edges[end] + 2];
  let across = 0;
  for (let e = 0; e < edges.length; e += 2)
    if (Math.min(height(e), height(e + 1)) < -IN_PLANE && Math.max(height(e), height(e + 1)) > IN_PLANE) across++;
  return {
    edge: { min: ascending[0], mean, max: ascending[ascending.length - 1], sum },
    distinctLengths,
    faceAngleDeg: faceAngles(tiling),
    pentagonCount: sides.filter((s) => s === 5).length,
    hexagonCount: sides.filter((s) => s === 6).length,
    edgesAcrossSplitPlane: across,
  };
}

export function edgeLengths({ xyz, edges, edgeCount }: Tiling): Float64Array {
  return Float64Array.from({ length: edgeCount }, (_, e) => {
    const [a, b] = [3 * edges[2 * e], 3 * edges[2 * e + 1]];
    return Math.hypot(xyz[b] - xyz[a], xyz[b + 1] - xyz[a + 1], xyz[b + 2] - xyz[a + 2]);
  });
}

function faceAngles({ xyz, cellPtr, cellNodes, cellCount }: Tiling): { min: number; max: number } {
  let [min, max] = [Number.POSITIVE_INFINITY, 0];
  for (let c = 0; c < cellCount; c++) {
    const count = cellPtr[c + 1] - cellPtr[c];
    for (let k = 0; k < count; k++) {
      const [before, here, after] = [k + count - 1, k, k + 1].map((i) => 3 * cellNodes[cellPtr[c] + (i % count)]);
      const [u, v] = [before, after].map((p) => [0, 1, 2].map((i) => xyz[p + i] - xyz[here + i]));
      const cosine = (u[0] * v[0] + u[1] * v[1] + u[2] * v[2]) / (Math.hypot(...u) * Math.hypot(...v));
      const angle = (Math.acos(Math.min(1, Math.max(-1, cosine))) * 180) / Math.PI;
      [min, max] = [Math.min(min, angle), Math.max(max, angle)];
    }
  }
  return { min, max };
}
