import type { StrutFrame } from './frame/index.ts';
import { type DropBounce, type DropReport, drop, type Orientation } from './impact/index.ts';
import type { MaterialAt } from './material-at.ts';
import type { ThrownFigures, ThrowTest } from './thrown.ts';

/** Conditions of a drop; what is left out has its default here. */
export interface DropConditions {
  readonly heightMm?: number;
  readonly orientations?: number;
  readonly seed?: number;
  readonly friction?: number;
  readonly drag?: { readonly coefficient: number; readonly airDensityKgM3: number };
  readonly oblique?: ThrowTest;
}

const USUAL_HEIGHT_MM = 1800;
const USUAL_ORIENTATIONS = 6;
const USUAL_SEED = 1;

/** The conditions with every default; `assumed`: the height is nobody's, neither asked for nor the reference's. */
export function settleDrop(conditions: DropConditions = {}, referenceHeightMm: number | null) {
  const { heightMm, orientations = USUAL_ORIENTATIONS, seed = USUAL_SEED, friction = 0, drag } = conditions;
  const known = heightMm ?? referenceHeightMm;
  return { heightMm: known ?? USUAL_HEIGHT_MM, assumed: known === null, orientations, seed, friction, drag };
}
type Settled = ReturnType<typeof settleDrop>;

export interface Dropping {
  /** For the long-term modulus. */
  readonly frame: StrutFrame;
  /** Of the union. */
  readonly massG: number;
  readonly material: MaterialAt;
  readonly orientations: readonly Orientation[];
  readonly conditions: Settled;
  /** Rotations of which some may leave the lattice as it is, row-major, 9 each: drops along their axes take less work. */
  readonly rotations?: Float64Array;
}
export interface DropHooks {
  isCancelled?(): boolean;
  onProgress?(share: number): void;
  poll?(): void;
}

export const T_PER_G = 1e-6;

/**
 * The contract's rebound of a frame, and the failure of the worst bounce beside it. `rebound` is null only where nothing could be dropped.
 */
export function reboundOf({ frame, massG, material, orientations, conditions, rotations }: Dropping, hooks: DropHooks) {
  const { heightMm, friction, drag } = conditions;
  const { relaxation } = material;
  const outcome = drop({ frame, massT: massG * T_PER_G, relaxation, rotations }, { heightMm, orientations, friction, drag }, hooks);
  switch (outcome.kind) {
    case 'cancelled':
      return { rebound: null, error: { code: 'cancelled', message: 'The drop was cancelled.' } };
    case 'report':
      return { rebound: reboundFigures(outcome, assumptionsOf(conditions)), error: failureOf(outcome.byOrientation) };
    default:
      return { rebound: null, error: { code: outcome.kind, message: outcome.message } };
  }
}

export type ReboundFigures = ReturnType<typeof reboundFigures>;

function reboundFigures({ kind: _, byOrientation, ...report }: DropReport, assumptions: string[]) {
  return { ...report, byOrientation: byOrientation.map(bounceFigures), oblique: null as ThrownFigures | null, assumptions };
}

function bounceFigures({ orientation, down, sidewaysMS, history: _, steps: __, ...bounce }: DropBounce) {
  const [x, y, z] = down;
  const vector: [number, number, number] = [x, y, z];
  return { name: orientation, down: vector, ...bounce, sidewaysSpeedMS: sidewaysMS };
}

/** Worst first. */
const FAILURES = {
  collapsed: 'The lattice collapses on the floor',
  'bottoms-out': 'The lattice bottoms out: its upper half meets the floor',
  'no-rebound': 'The lattice does not leave the floor again',
} as const;

function failureOf(bounces: readonly DropBounce[]) {
  for (const [code, sentence] of Object.entries(FAILURES)) {
    const names = bounces.filter(({ outcome }) => outcome === code).map(({ orientation }) => orientation);
    if (names.length === 0) continue;
    const message = `${sentence} in ${names.length} of ${bounces.length} orientations; the result holds the numbers so far.`;
    return { code, message, details: { orientations: names } };
  }
  return null;
}

function assumptionsOf({ heightMm, assumed, friction, drag }: Settled): string[] {
  return [
    assumed ? `dropped from ${heightMm} mm, a usual height: neither the tests nor the reference give one` : `dropped from ${heightMm} mm`,
    'a rigid floor, and a part that falls without turning; the rise is that of the centre of mass',
    friction > 0 ? `friction on the floor ${friction}` : 'no friction on the floor',
    drag ? `air drag of the circumscribed sphere, coefficient ${drag.coefficient}` : 'no air drag',
  ];
}

/** The bounce that strains a strut most. */
export const worstOf = <B extends { readonly peakStrainPct: number }>(bounces: readonly B[]): B =>
  bounces.reduce((worst, each) => (each.peakStrainPct > worst.peakStrainPct ? each : worst));

/** The numbers of a rebound by their paths in a result; null where the part did not leave the floor. */
export function numbersOf({ reboundHeightMm, restitution, contactTimeMs, peakForceN, peakStrainPct }: ReboundFigures) {
  if (!reboundHeightMm || !restitution) return null;
  return {
    'rebound.reboundHeightMm.mean': reboundHeightMm.mean,
    'rebound.restitution.mean': restitution.mean,
    'rebound.contactTimeMs': contactTimeMs,
    'rebound.peakForceN': peakForceN,
    'rebound.peakStrainPct': peakStrainPct,
  };
}
