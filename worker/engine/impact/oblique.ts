import type { BounceRecord } from './bounce.ts';
import { bouncer } from './bouncer.ts';
import type { DropHooks } from './drop.ts';
import { type DropEnergy, energyOf } from './drop-report.ts';
import { riseMm } from './flight.ts';
import type { Orientation } from './orientations.ts';
import { type Dropped, MOST_HALVINGS, prepare, type Unprepared } from './prepare.ts';
import { turnDown } from './turn.ts';

export interface ObliqueTest {
  readonly speedMS: number;
  /** Of the way in to the upright; the lattice flies towards +x and -z. */
  readonly angleDeg: number;
  /** Before the bounce; positive: as of a ball that rolls the way it flies (about +y). */
  readonly spinRadS: number;
  /** Coefficient of friction on the floor. */
  readonly friction: number;
  readonly orientations: readonly Orientation[];
}

/** What an oblique bounce makes of speed, angle and spin. */
export interface ObliqueBounce {
  readonly orientation: string;
  readonly outcome: 'rebound' | 'no-rebound' | 'bottoms-out' | 'collapsed';
  /** Of the centre of mass, as it leaves the floor. */
  readonly speedMS: number;
  /** Of the way out to the upright, towards where it flew; below 0: back. */
  readonly angleDeg: number;
  /** Positive: as of a ball that rolls the way it flew; and about the two other axes, x (the way) and z (up). */
  readonly spinRadS: number;
  readonly otherSpinRadS: readonly [number, number];
  /** Across the plane of the way in. */
  readonly sidewaysMS: number;
  /** Upward over downward speed. */
  readonly normalRestitution: number;
  /** Share of the speed along the floor that is left. */
  readonly tangentialShare: number;
  readonly contactTimeMs: number;
  readonly peakForceN: number;
  readonly peakStrainPct: number;
  readonly energy: DropEnergy;
}

export type ObliqueOutcome =
  | { readonly kind: 'report'; readonly byOrientation: readonly ObliqueBounce[] }
  | Unprepared
  | { readonly kind: 'cancelled'; readonly byOrientation: readonly ObliqueBounce[] };

/**
 * Bounces at an angle on a floor with Coulomb friction. The lattice touches undeformed, flying and spinning as a rigid body; sticking and slipping are found
 * for every node that touches, its sphere's lowest point rubbing on the floor.
 */
export function obliqueDrop(dropped: Dropped, test: ObliqueTest, hooks: DropHooks = {}): ObliqueOutcome {
  const prepared = prepare(dropped);
  if (prepared.kind !== 'prepared') return prepared;
  const { speedMS, angleDeg, spinRadS, friction, orientations } = test;
  const angle = (angleDeg * Math.PI) / 180;
  const velocity = [1e3 * speedMS * Math.sin(angle), 0, -1e3 * speedMS * Math.cos(angle)];
  const run = bouncer(prepared, MOST_HALVINGS);
  const byOrientation: ObliqueBounce[] = [];
  for (const { name, down } of orientations) {
    const onProgress = (share: number) => hooks.onProgress?.((byOrientation.length + share) / orientations.length);
    const arrival = { turn: turnDown(down), velocity, spin: [0, spinRadS, 0], friction };
    const record = run(arrival, { isCancelled: hooks.isCancelled, onProgress });
    if (record.end === 'cancelled') return { kind: 'cancelled', byOrientation };
    byOrientation.push(obliqueBounce(name, { ...record, end: record.end }, velocity, dropped.massT));
  }
  return { kind: 'report', byOrientation };
}

function obliqueBounce(
  orientation: string,
  record: BounceRecord & { end: Exclude<BounceRecord['end'], 'cancelled'> },
  [along, , down]: readonly number[],
  massT: number,
): ObliqueBounce {
  const [vx, vy, vz] = record.velocity;
  const [spinX, spinY, spinZ] = record.spin;
  return {
    orientation,
    outcome: record.end === 'left' ? 'rebound' : record.end,
    speedMS: 1e-3 * Math.hypot(vx, vy, vz),
    angleDeg: (Math.atan2(vx, vz) * 180) / Math.PI,
    spinRadS: spinY,
    otherSpinRadS: [spinX, spinZ],
    sidewaysMS: 1e-3 * vy,
    normalRestitution: -vz / down,
    tangentialShare: along === 0 ? 1 : vx / along,
    contactTimeMs: 1e3 * record.contactTimeS,
    peakForceN: record.peakForceN,
    peakStrainPct: 100 * record.peakStrain,
    energy: energyOf(record, massT, Math.max(0, record.riseMm + riseMm(Math.max(0, vz), massT, null))),
  };
}
