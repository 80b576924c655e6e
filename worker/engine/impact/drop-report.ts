import type { BounceRecord } from './bounce.ts';
import { type Drag, riseMm } from './flight.ts';
import { GRAVITY_MM_S2, type Prepared } from './prepare.ts';
import type { Direction } from './turn.ts';

/** One bounce in the contract's units; height and restitution are null where the run says nothing about them. */
export interface DropBounce {
  readonly orientation: string;
  readonly down: Direction;
  readonly outcome: 'rebound' | 'no-rebound' | 'bottoms-out' | 'collapsed';
  readonly reboundHeightMm: number | null;
  readonly restitution: number | null;
  readonly contactTimeMs: number;
  readonly peakForceN: number;
  readonly peakStrainPct: number;
  readonly peakStrainAt: { readonly strut: number; readonly node: number; readonly role: string; readonly timeMs: number };
  readonly sidewaysMS: number;
  readonly spinRadS: number;
  readonly energy: DropEnergy;
  readonly steps: number;
  readonly history: { readonly timeMs: readonly number[]; readonly riseMm: readonly number[]; readonly forceN: readonly number[] };
}

/** Where the incoming energy is at the end of contact; all but the last in J. */
export interface DropEnergy {
  readonly incomingJ: number;
  /** Weight at the height of the rebound. */
  readonly reboundJ: number;
  /** Of sideways motion and spin as a whole. */
  readonly sidewaysJ: number;
  /** Left in the lattice's own motion and strain; of which the springs of the branches will turn all they hold to heat. */
  readonly vibrationJ: number;
  readonly branchesJ: number;
  readonly dissipatedJ: number;
  readonly frictionJ: number;
  readonly balanceErrorPct: number;
}

interface Range {
  readonly mean: number;
  readonly min: number;
  readonly max: number;
}

export interface DropReport {
  readonly kind: 'report';
  readonly dropHeightMm: number;
  /** Over the bounces that have a height; null without any. */
  readonly reboundHeightMm: Range | null;
  readonly restitution: Range | null;
  /** Mean over the orientations. */
  readonly contactTimeMs: number;
  /** Largest over the orientations. */
  readonly peakForceN: number;
  readonly peakStrainPct: number;
  /** Mean over the orientations, but the largest balance error. */
  readonly energy: DropEnergy;
  readonly byOrientation: readonly DropBounce[];
  readonly stepS: number;
}

const J_PER_MJ = 1e-3;
const MEASURED = { left: 'rebound', 'no-rebound': 'no-rebound', 'bottoms-out': 'bottoms-out', collapsed: 'collapsed' } as const;

/** A record of a bounce as the contract tells it; `drag` slows the way up. */
export function bounceReport(
  record: BounceRecord & { end: keyof typeof MEASURED },
  { model, frame }: Prepared,
  { orientation, down, heightMm, drag }: { orientation: string; down: Direction; heightMm: number; drag: Drag | null },
): DropBounce {
  const outcome = MEASURED[record.end];
  const [vx, vy, vz] = record.velocity;
  const rise = Math.max(0, record.riseMm + Math.sign(vz) * riseMm(Math.abs(vz), model.massT, drag));
  const height = { rebound: rise, 'no-rebound': 0, 'bottoms-out': null, collapsed: null }[outcome];
  const strut = record.peakStrut;
  return {
    orientation,
    down,
    outcome,
    reboundHeightMm: height,
    restitution: height === null ? null : Math.sqrt(height / heightMm),
    contactTimeMs: 1e3 * record.contactTimeS,
    peakForceN: record.peakForceN,
    peakStrainPct: 100 * record.peakStrain,
    peakStrainAt: {
      strut,
      node: frame.graph.ends[2 * strut + record.peakEnd],
      role: frame.graph.roleNames[frame.graph.roles[strut]],
      timeMs: 1e3 * record.peakTimeS,
    },
    sidewaysMS: 1e-3 * Math.hypot(vx, vy),
    spinRadS: Math.hypot(...record.spin),
    energy: energyOf(record, model.massT, height ?? 0),
    steps: record.steps,
    history: {
      timeMs: record.history.map(({ timeS }) => 1e3 * timeS),
      riseMm: record.history.map((at) => at.riseMm),
      forceN: record.history.map(({ forceN }) => forceN),
    },
  };
}

/** Where a bounce's incoming energy is at the end of contact; heightMm: of the rebound. */
export function energyOf(
  { energies, asOneMJ, spinMJ, incomingMJ, balanceError, velocity: [vx, vy] }: BounceRecord,
  massT: number,
  heightMm: number,
): DropEnergy {
  const { kinetic, strain, contact, branches, dissipated, rubbed } = energies;
  return {
    incomingJ: J_PER_MJ * incomingMJ,
    reboundJ: J_PER_MJ * massT * GRAVITY_MM_S2 * heightMm,
    sidewaysJ: J_PER_MJ * ((massT / 2) * (vx * vx + vy * vy) + spinMJ),
    vibrationJ: J_PER_MJ * (kinetic - asOneMJ + strain + contact),
    branchesJ: J_PER_MJ * branches,
    dissipatedJ: J_PER_MJ * dissipated,
    frictionJ: J_PER_MJ * rubbed,
    balanceErrorPct: 100 * balanceError,
  };
}

/** The whole drop test from its bounces (at least one). */
export function dropReport(byOrientation: readonly DropBounce[], heightMm: number, stepS: number): DropReport {
  const numbers = (pick: (bounce: DropBounce) => number | null) => byOrientation.map(pick).filter((each) => each !== null);
  const mean = (pick: (bounce: DropBounce) => number) => byOrientation.reduce((sum, each) => sum + pick(each), 0) / byOrientation.length;
  const most = (pick: (bounce: DropBounce) => number) => Math.max(...byOrientation.map(pick));
  const energy = (key: keyof DropEnergy) => mean((bounce) => bounce.energy[key]);
  return {
    kind: 'report',
    dropHeightMm: heightMm,
    reboundHeightMm: rangeOf(numbers((bounce) => bounce.reboundHeightMm)),
    restitution: rangeOf(numbers((bounce) => bounce.restitution)),
    contactTimeMs: mean((bounce) => bounce.contactTimeMs),
    peakForceN: most((bounce) => bounce.peakForceN),
    peakStrainPct: most((bounce) => bounce.peakStrainPct),
    energy: {
      incomingJ: energy('incomingJ'),
      reboundJ: energy('reboundJ'),
      sidewaysJ: energy('sidewaysJ'),
      vibrationJ: energy('vibrationJ'),
      branchesJ: energy('branchesJ'),
      dissipatedJ: energy('dissipatedJ'),
      frictionJ: energy('frictionJ'),
      balanceErrorPct: most((bounce) => bounce.energy.balanceErrorPct),
    },
    byOrientation,
    stepS,
  };
}

function rangeOf(values: readonly number[]): Range | null {
  if (values.length === 0) return null;
  return { mean: values.reduce((sum, each) => sum + each, 0) / values.length, min: Math.min(...values), max: Math.max(...values) };
}
