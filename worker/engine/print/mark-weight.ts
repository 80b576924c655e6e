import type { StrutGraph } from '../lattice/index.ts';
import { findTouching, integrateUnion, unionSurface } from '../solid/index.ts';
import { withMark } from './mark-graph.ts';
import type { VersionMark } from './mark-types.ts';

export interface WeightOfPart {
  readonly massG: number;
  readonly centreOfMassMm: readonly [number, number, number];
}

/**
 * What the mark adds to the part without it: the union of the marked strut and its pins less that of the strut alone, exact because the pins
 * keep their distance from everything else. Volume in mm3, mass in g, lengths in mm; a mark of mass m at radius r moves the centre of mass
 * of a part of mass M by m r / (M + m), and makes two halves differ by at most m.
 */
export function markWeight(
  graph: StrutGraph,
  mark: Pick<VersionMark, 'strut' | 'pins' | 'pinDiameterMm'>,
  densityGCm3: number,
  part: WeightOfPart,
): Pick<VersionMark, 'extraVolumeMm3' | 'extraMassG' | 'markedMassG' | 'imbalance'> {
  const alone = onlyStrut(graph, mark.strut);
  const [plain, marked] = [alone, withMark(alone, { ...mark, strut: 0 })].map((each) => {
    // Taken about the part's centre of mass, so that first moments are moments of imbalance.
    const surface = unionSurface(each, part.centreOfMassMm, findTouching(each));
    return integrateUnion(each, surface, null).moments;
  });
  const volume = marked[0] - plain[0];
  const offset = [1, 2, 3].map((k) => (marked[k] - plain[k]) / volume);
  const radiusMm = Math.hypot(...offset);
  const extraMassG = volume * densityGCm3 * 1e-3;
  const markedMassG = part.massG + extraMassG;
  return {
    extraVolumeMm3: volume,
    extraMassG,
    markedMassG,
    imbalance: {
      centreOfMassShiftMm: (extraMassG * radiusMm) / markedMassG,
      centreOfMassOffsetMm: Math.hypot(...part.centreOfMassMm.map((at, k) => at + (extraMassG * offset[k]) / markedMassG)),
      radiusMm,
      unbalanceGMm: extraMassG * radiusMm,
      halfMassDifferencePct: (100 * extraMassG) / markedMassG,
    },
  };
}

/** A graph of one strut of another, with the node spheres it has by itself. */
function onlyStrut({ xyz, ends, diameters, roles, roleNames }: StrutGraph, strut: number): StrutGraph {
  const [a, b] = [3 * ends[2 * strut], 3 * ends[2 * strut + 1]];
  const both = diameters.slice(2 * strut, 2 * strut + 2);
  return {
    nodeCount: 2,
    strutCount: 1,
    xyz: Float64Array.from([...xyz.subarray(a, a + 3), ...xyz.subarray(b, b + 3)]),
    ends: Int32Array.from([0, 1]),
    diameters: both,
    roles: roles.slice(strut, strut + 1),
    roleNames,
    nodeRadius: both.map((diameter) => diameter / 2),
  };
}
