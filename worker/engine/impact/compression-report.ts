import type { CompressionTest, Pressed } from './compression.ts';
import { type CurvePoint, forceAt, initialSlope, loopOf } from './compression-curve.ts';
import type { Press, PressEnd } from './compression-press.ts';

/** What was found between the plates; numbers that a test that ended early did not reach are null. */
export interface CompressionReport {
  readonly kind: 'report';
  readonly end: 'reached' | PressEnd;
  /** Why the test ended where it did. */
  readonly message: string;
  /** Slow loading; from 0, where the plates just touch. */
  readonly curve: readonly CurvePoint[];
  readonly initialNPerMm: number | null;
  readonly secantNPerMm: number | null;
  readonly atDeflectionMm: number | null;
  /** Largest on the way. */
  readonly peakStrainPct: number;
  readonly peakStrainAt: { readonly strut: number; readonly node: number; readonly role: string } | null;
  /** At speedMmS, where the relaxation is known. */
  readonly unloading: readonly CurvePoint[] | null;
  readonly loopPct: number | null;
  readonly speedMmS: number;
  /** Here, or just beyond, the tangent stiffness stops being positive definite; the strut that the buckling mode or the jump deforms most. */
  readonly firstBuckling: (CurvePoint & { readonly strut: number; readonly role: string }) | null;
  /** Two struts that share no node touch; from here on the curve is too soft, as they pass into one another. */
  readonly firstContact: (CurvePoint & { readonly struts: readonly [number, number] }) | null;
  /** Where the part had jumped, setting energy free. */
  readonly snaps: readonly (CurvePoint & { readonly freedMJ: number })[];
  /** Elastic energy at the end of the curve. */
  readonly energyMJ: number;
  /** Places of the nodes at the end of the curve, 3 per node. */
  readonly deformedXyz: Float64Array;
}

const SPEED_MM_S = 1;

export function reportOf(press: Press, { frame, modulusMPa, relaxation }: Pressed, test: CompressionTest): CompressionReport {
  const { outsideDiameterMm, toPctOfDiameter, secantAtPct, speedMmS = SPEED_MM_S } = test;
  const { curve, peak, firstBuckling, firstContact, snaps, end } = press;
  const roleOf = (strut: number) => frame.graph.roleNames[frame.graph.roles[strut]];
  const at = (secantAtPct / 100) * outsideDiameterMm;
  const force = forceAt(curve, at);
  const points = curve.map(({ deflectionMm, forceN }) => ({ deflectionMm, forceN }));
  const loop = relaxation && loopOf(points, relaxation, modulusMPa, speedMmS);
  const reachedMm = points[points.length - 1].deflectionMm;
  return {
    kind: 'report',
    end: end ?? 'reached',
    message: messageOf(end, reachedMm, (toPctOfDiameter / 100) * outsideDiameterMm),
    curve: points,
    initialNPerMm: initialSlope(points, 0.01 * outsideDiameterMm),
    secantNPerMm: force === null ? null : force / at,
    atDeflectionMm: force === null ? null : at,
    peakStrainPct: 100 * (peak?.strain ?? 0),
    peakStrainAt: peak && { strut: peak.strut, node: peak.node, role: roleOf(peak.strut) },
    unloading: loop?.unloading ?? null,
    loopPct: loop?.loopPct ?? null,
    speedMmS,
    firstBuckling: firstBuckling && { ...firstBuckling, role: roleOf(firstBuckling.strut) },
    firstContact,
    snaps,
    energyMJ: curve[curve.length - 1].energyMJ,
    deformedXyz: press.equilibrium.placement.positions.slice(),
  };
}

function messageOf(end: PressEnd | null, reachedMm: number, toMm: number): string {
  const where = `at ${reachedMm.toFixed(2)} of ${toMm.toFixed(2)} mm`;
  switch (end) {
    case null:
      return `Compressed by ${reachedMm.toFixed(2)} mm.`;
    case 'bottoms-out':
      return `The part bottoms out ${where}: struts or plates meet.`;
    case 'not-converged':
      return `No equilibrium was found beyond ${where}.`;
    case 'cancelled':
      return `Cancelled ${where}.`;
  }
}
