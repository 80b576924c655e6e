import { type Lattice, membersOf } from './lattice/index.ts';
import type { Openings } from './print/index.ts';
import { meanWidth } from './solid/index.ts';
import { cellSize, neighbouringTilings, statistics, type Tiling } from './tiling/index.ts';

/** The contract's geometry figures of a lattice. Lengths in mm. */
export function geometryOf(tiling: Tiling, lattice: Lattice, openings: Openings) {
  const { graph, nodesPerLayer } = lattice;
  const unit = statistics(tiling);
  return {
    triangulationNumber: tiling.T,
    cellSizeMm: cellSize(tiling.T, lattice.nodeRadiusMm[0]),
    neighbouringTilings: neighbouringTilings(tiling.T, lattice.nodeRadiusMm[0]),
    nodeCount: graph.nodeCount,
    strutCount: graph.strutCount,
    cellCount: tiling.cellCount,
    pentagonCount: unit.pentagonCount,
    hexagonCount: unit.hexagonCount,
    nodeRadiusMm: [...lattice.nodeRadiusMm],
    outsideDiameterMm: outsideDiameterOf(lattice),
    circumferenceMm: Math.PI * meanWidth(graph, nodesPerLayer),
    strutLengthMm: rangeOf(membersOf(lattice).lengthMm),
    cellOpeningMm: openings.cells.map((cells, layer) => ({ layer, min: rangeOf(cells).min, max: rangeOf(cells).max })),
    edgeUniformityPct: (100 * (unit.edge.max - unit.edge.min)) / unit.edge.mean,
    distinctStrutLengths: unit.distinctLengths,
    strutsAcrossSplitPlane: strutsAcross(lattice),
  };
}

/** Diameter of the sphere that circumscribes a lattice, mm. */
export function outsideDiameterOf({ graph: { xyz, nodeRadius }, nodesPerLayer }: Lattice): number {
  let outside = 0;
  for (let v = 0; v < nodesPerLayer; v++) outside = Math.max(outside, Math.hypot(...xyz.subarray(3 * v, 3 * v + 3)) + nodeRadius[v]);
  return 2 * outside;
}

function rangeOf(values: Float64Array): { min: number; mean: number; max: number } {
  let [min, max, sum] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
  for (const value of values) {
    if (value < min) min = value;
    if (value > max) max = value;
    sum += value;
  }
  return { min, mean: sum / values.length, max };
}

/** Struts whose centre line crosses z = 0; nodes within 1e-6 mm of the plane lie in it. */
function strutsAcross({ graph: { xyz, ends, strutCount } }: Lattice): number {
  let across = 0;
  for (let s = 0; s < strutCount; s++) {
    const [a, b] = [xyz[3 * ends[2 * s] + 2], xyz[3 * ends[2 * s + 1] + 2]];
    if (Math.min(a, b) < -1e-6 && Math.max(a, b) > 1e-6) across++;
  }
  return across;
}

/** Volume of all struts as if they did not overlap, mm3: what adding cylinders would give. */
export function sumOfStruts(graph: Lattice['graph']): number {
  const { xyz, ends, diameters, strutCount } = graph;
  let volume = 0;
  for (let s = 0; s < strutCount; s++) {
    const [a, b] = [3 * ends[2 * s], 3 * ends[2 * s + 1]];
    const length = Math.hypot(xyz[b] - xyz[a], xyz[b + 1] - xyz[a + 1], xyz[b + 2] - xyz[a + 2]);
    const [p, q] = [diameters[2 * s], diameters[2 * s + 1]];
    volume += (Math.PI / 12) * length * (p * p + p * q + q * q);
  }
  return volume;
}
