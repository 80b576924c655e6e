import { linearStatics, massMatrix, NODE_UNKNOWNS, type StrutFrame, stiffnessMatrix, vibration } from './frame/index.ts';
import { framedAt, type Joints, unitFrame } from './framed.ts';
import { sumOfStruts } from './geometry.ts';
import { massOfGraph } from './graph-mass.ts';
import { placedBetween, selfBalanced } from './graph-supports.ts';
import type { StrutGraph } from './lattice/index.ts';
import type { EngineError } from './mechanics.ts';

export interface FrameQuestion {
  readonly modulusMPa: number;
  readonly poisson: number;
  readonly densityGCm3: number;
  readonly joints: Joints;
  /** How many of the lowest frequencies, and whether the mass is that of all cylinders or of the union. */
  readonly modes: number;
  readonly mass: 'cylinders' | 'union';
}
/** Force (N) and moment (N mm) on a node. */
export interface NodeLoad {
  readonly node: number;
  readonly forceN: readonly [number, number, number];
  readonly momentNMm: readonly [number, number, number];
}

const T_MM3_PER_G_CM3 = 1e-9;

/**
 * Stiffness of a graph's frame between its `hold` lowest nodes (ties within 1e-6 of the height join), held in z, and its `load` highest ones, which share
 * a unit force: force over mean displacement, N/mm. Motion in the plane and spin are taken away by supports that carry no force.
 */
export function frameStiffness(graph: StrutGraph, question: FrameQuestion, { hold, load }: { hold: number; load: number }) {
  const frame = frameOf(graph, question);
  const { held, loaded, forces } = placedBetween(graph, hold, load);
  const found = linearStatics(frame, { held, load: forces });
  if (found.kind !== 'displaced') return unsettled();
  const mean = loaded.reduce((sum, v) => sum - found.displacement[NODE_UNKNOWNS * v + 2], 0) / loaded.length;
  return { kind: 'stiffness' as const, stiffnessNPerMm: 1 / mean };
}

/** Compliance of a free frame under loads that balance each other: sum of force times displacement and moment times rotation, mm N. */
export function frameCompliance(graph: StrutGraph, question: FrameQuestion, loads: readonly NodeLoad[]) {
  const frame = frameOf(graph, question);
  const balanced = selfBalanced(graph, loads);
  if (balanced.kind === 'unbalanced') return balanced;
  const found = linearStatics(frame, { held: balanced.held, load: balanced.forces });
  if (found.kind !== 'displaced') return unsettled();
  const compliance = balanced.forces.reduce((sum, each, k) => sum + each * found.displacement[k], 0);
  return { kind: 'compliance' as const, complianceMmPerN: compliance };
}

/** Lowest natural frequencies of the free frame, Hz, rigid motions left out; consistent mass, one element a strut. */
export function frameFrequencies(graph: StrutGraph, question: FrameQuestion) {
  const { densityGCm3, poisson, modes, mass } = question;
  const share = mass === 'union' ? massOfGraph(graph, densityGCm3).volumeMm3 / sumOfStruts(graph) : 1;
  const frame = frameOf(graph, question);
  const densityTMm3 = densityGCm3 * T_MM3_PER_G_CM3 * share;
  const found = vibration(stiffnessMatrix(frame), massMatrix(frame, { densityTMm3, poisson }), { count: modes });
  if (found.kind !== 'vibration') return unsettled();
  return { kind: 'frequencies' as const, frequenciesHz: [...found.frequenciesHz] };
}

const frameOf = (graph: StrutGraph, { modulusMPa, poisson, joints }: FrameQuestion): StrutFrame =>
  framedAt(unitFrame(graph, poisson, { joints }), modulusMPa, null);

function unsettled(): { kind: 'failed'; error: EngineError } {
  const message = 'Parts of the frame can move freely: it is in separate parts, or what holds it does not.';
  return { kind: 'failed', error: { code: 'not-positive-definite', message } };
}
