import type { StrutFrame } from './frame/index.ts';
import { type CompressionReport, compress } from './impact/index.ts';
import type { Lattice } from './lattice/index.ts';
import type { MaterialAt } from './material-at.ts';
import type { EngineError } from './mechanics.ts';
import { clearOpenings, type MechanicsFindings, type Openings } from './print/index.ts';

export interface Squeezing {
  readonly lattice: Lattice;
  /** The tiling's group of rotations, row-major, 9 each. */
  readonly rotations: Float64Array;
  /** For the quasi-static modulus. */
  readonly frame: StrutFrame;
  readonly material: MaterialAt;
  readonly outsideDiameterMm: number;
  /** Left out: the usual percentages. */
  readonly test?: { readonly toPctOfDiameter: number; readonly secantAtPct: number };
}
export interface SqueezeHooks {
  isCancelled?(): boolean;
  onProgress?(share: number): void;
  poll?(): void;
}

const USUAL_TEST = { toPctOfDiameter: 15, secantAtPct: 10 };
const J_PER_MJ = 1e-3;

/** The contract's stiffness of a frame between two plates, what the checks read of it, and the failure of a test that ended early. */
export function squeeze({ lattice, rotations, frame, material, outsideDiameterMm, test = USUAL_TEST }: Squeezing, hooks: SqueezeHooks) {
  const { quasiStaticMPa: modulusMPa, relaxation } = material;
  const outcome = compress({ frame, modulusMPa, relaxation, rotations }, { outsideDiameterMm, ...test }, hooks);
  if (outcome.kind === 'disconnected') {
    const error: EngineError = { code: outcome.kind, message: outcome.message };
    return { stiffness: null, squeezed: null, buckling: null, error };
  }
  const openings = clearOpenings({ ...lattice, graph: { ...lattice.graph, xyz: outcome.deformedXyz } });
  const error: EngineError | null = outcome.end === 'reached' ? null : { code: outcome.end, message: outcome.message };
  return { stiffness: stiffnessFigures(outcome, openings), ...findingsOf(outcome, openings), error };
}

export type StiffnessFigures = ReturnType<typeof stiffnessFigures>;

function stiffnessFigures(report: CompressionReport, openings: Openings) {
  const { curve, unloading, firstContact, snaps } = report;
  const range = (cells: Float64Array) => ({
    min: cells.reduce((least, each) => Math.min(least, each), Number.POSITIVE_INFINITY),
    max: cells.reduce((most, each) => Math.max(most, each), 0),
  });
  return {
    initialNPerMm: report.initialNPerMm,
    secantNPerMm: report.secantNPerMm,
    atDeflectionMm: report.atDeflectionMm,
    curve: [...curve],
    peakStrainPct: report.peakStrainPct,
    peakStrainAt: report.peakStrainAt,
    unloading: unloading && [...unloading],
    loopPct: report.loopPct,
    loopSpeedMmS: report.speedMmS,
    firstBuckling: report.firstBuckling,
    firstContact: firstContact && { ...firstContact, struts: [firstContact.struts[0], firstContact.struts[1]] as [number, number] },
    snaps: snaps.map(({ deflectionMm, forceN, freedMJ }) => ({ deflectionMm, forceN, freedJ: J_PER_MJ * freedMJ })),
    deformedOpeningMm: openings.cells.map((cells, layer) => ({ layer, ...range(cells) })),
  };
}

function findingsOf({ curve, firstBuckling }: CompressionReport, openings: Openings): Pick<MechanicsFindings, 'squeezed' | 'buckling'> {
  const { deflectionMm, forceN } = curve[curve.length - 1];
  return {
    squeezed: { deflectionMm, cells: openings.cells },
    buckling: { toDeflectionMm: deflectionMm, toForceN: forceN, first: firstBuckling },
  };
}
