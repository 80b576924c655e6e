import { type EndZones, jointZones, type StrutFrame, strutFrame } from './frame/index.ts';
import type { StrutGraph } from './lattice/index.ts';

/** Factors on the modulus of struts along the build axis z and of struts that lie in a layer. */
export interface DirectionFactors {
  readonly upright: number;
  readonly inLayer: number;
}

/** A frame with the modulus of each strut, MPa. */
export type FramedLattice = StrutFrame & { readonly modulusMPa: Float64Array };

/** calibrated: struts are stiffened where joints hold them, as fitted to solids; none: they run from node centre to node centre. */
export type Joints = 'calibrated' | 'none';

export interface JointOptions {
  readonly joints?: Joints;
  /** Measured lengths that joints hold over those of the model. */
  readonly jointFactor?: number;
  /** Called every few milliseconds; may throw. */
  readonly poll?: () => void;
}

/** The frame of a graph for the modulus 1 MPa. */
export const unitFrame = (
  graph: StrutGraph,
  poisson: number,
  { joints = 'calibrated', jointFactor = 1, poll }: JointOptions = {},
): StrutFrame =>
  strutFrame(graph, { modulusMPa: 1, poisson, poll }, joints === 'calibrated' ? scaled(jointZones(graph, poll), jointFactor) : undefined);

function scaled(zones: EndZones, factor: number): EndZones {
  if (factor === 1) return zones;
  const { normal, ...lengths } = zones;
  const longer = Object.entries(lengths).map(([mode, values]) => [mode, values.map((each) => factor * each)]);
  return { ...(Object.fromEntries(longer) as typeof lengths), normal };
}

/** A frame built for the modulus 1 MPa, for another modulus; a strut at the angle a to z takes inLayer + (upright - inLayer) cos^2 a of it. */
export function framedAt(unit: StrutFrame, modulusMPa: number, factors: DirectionFactors | null): FramedLattice {
  const moduli = unit.lengthMm.map((_, strut) => modulusMPa * factorOf(unit, strut, factors));
  return { ...unit, natural: unit.natural.map((each, k) => each * moduli[Math.floor(k / 12)]), modulusMPa: moduli };
}

function factorOf({ triads }: StrutFrame, strut: number, factors: DirectionFactors | null): number {
  if (!factors) return 1;
  const cosine = triads[9 * strut + 2];
  return factors.inLayer + (factors.upright - factors.inLayer) * cosine * cosine;
}
