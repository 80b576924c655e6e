import { areaBelow, type CurvePoint } from './compression-curve.ts';
import type { Press } from './compression-press.ts';
import { mostDeformed, peakStrain } from './compression-strain.ts';

/** Share of the energy that an even path leaves unexplained between two points of the curve. */
const UNEXPLAINED = 0.02;
/** Points of the curve, the origin among them, in which the part settles on the plates. */
const SETTLING = 5;

const pointOf = ({ deflectionMm, forceN }: CurvePoint): CurvePoint => ({ deflectionMm, forceN });

/**
 * True where the part jumped on its way to the present point: energy is missing, and the force lies below the line through the last two points (where new
 * nodes touch, energy seems to be missing too, but the force lies above).
 */
export function jumped({ curve, plates: { deflectionMm } }: Press, forceN: number, energyMJ: number): boolean {
  if (curve.length < SETTLING) return false;
  const [a, b] = curve.slice(-2);
  const ahead = b.forceN + ((b.forceN - a.forceN) * (deflectionMm - b.deflectionMm)) / (b.deflectionMm - a.deflectionMm);
  const freedMJ = b.energyMJ + areaBelow([b, { deflectionMm, forceN }]) - energyMJ;
  return freedMJ > UNEXPLAINED * energyMJ && forceN < ahead;
}

/** Reads forces, strains and contacts of the present equilibrium. */
export function record(press: Press, energyMJ: number): void {
  const { plates, curve, equilibrium, pressed, fibres } = press;
  const { positions } = equilibrium.placement;
  const { deflectionMm } = plates;
  const { forceN } = plates.read(positions);
  if (jumped(press, forceN, energyMJ)) {
    const before = last(curve);
    const freedMJ = before.energyMJ + areaBelow([before, { deflectionMm, forceN }]) - energyMJ;
    press.snaps.push({ deflectionMm, forceN, freedMJ });
    const { placement } = last(press.path);
    press.firstBuckling ??= { ...pointOf(before), strut: mostDeformed(pressed.frame, placement, equilibrium.placement) };
  }
  curve.push({ deflectionMm, forceN, energyMJ });
  const peak = peakStrain(pressed.frame, equilibrium.placement, fibres);
  if (peak.strain > (press.peak?.strain ?? 0)) press.peak = peak;
  if (between(press)) press.end = 'bottoms-out';
}

/** Looks for struts that touch, now or at a point before. */
export function meet(press: Press): void {
  const { first, through } = press.touches(press.equilibrium.placement.positions);
  const { deflectionMm, forceN } = last(press.curve);
  if (first) press.firstContact ??= { deflectionMm, forceN, struts: first.struts };
  if (through) press.end = 'bottoms-out';
}

/** True where a node sphere meets both plates. */
function between({ plates, pressed }: Press): boolean {
  const gap = plates.highMm - plates.lowMm - plates.deflectionMm;
  return pressed.frame.graph.nodeRadius.some((radius) => 2 * radius >= gap);
}

const last = <T>(list: readonly T[]): T => list[list.length - 1];
