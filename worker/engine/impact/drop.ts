import type { StrutGraph } from '../lattice/index.ts';
import { bouncer } from './bouncer.ts';
import { bounceReport, type DropBounce, type DropReport, dropReport } from './drop-report.ts';
import { type Drag, fallSpeed } from './flight.ts';
import type { Orientation } from './orientations.ts';
import { type Arrival, type Dropped, MOST_HALVINGS, prepare, type Unprepared } from './prepare.ts';
import { type Direction, turnDown } from './turn.ts';

export interface DropTest {
  /** Of the lowest point above the floor. */
  readonly heightMm: number;
  /** At least one. */
  readonly orientations: readonly Orientation[];
  /** Coefficient of friction on the floor; default 0. */
  readonly friction?: number;
  /** On the way down and up, of the sphere about the mean node that holds the whole lattice; default none. */
  readonly drag?: { readonly coefficient: number; readonly airDensityKgM3: number };
  /** Default: a share of the stability limit, halved for a bounce whose energies do not add up well enough. */
  readonly stepS?: number;
}

export interface DropHooks {
  /** Asked every few steps. */
  isCancelled?(): boolean;
  /** Share of the whole test that is done, 0 to 1. */
  onProgress?(share: number): void;
  /** Called between what takes some milliseconds before a bounce; may throw. */
  poll?(): void;
}

export type DropOutcome = DropReport | Unprepared | { readonly kind: 'cancelled'; readonly byOrientation: readonly DropBounce[] };

/**
 * The virtual drop test: free fall without turning, so it begins at the touch with v = sqrt(2 g h); one bounce in every orientation. The rebound height is
 * the centre of mass's rise above its height when the undeformed lattice stands there, as is the drop height; restitution = sqrt(rebound / drop height).
 */
export function drop(dropped: Dropped, test: DropTest, hooks: DropHooks = {}): DropOutcome {
  const prepared = prepare(dropped, test.stepS, hooks.poll);
  if (prepared.kind !== 'prepared') return prepared;
  const { heightMm, orientations } = test;
  const drag = dragOf(dropped, test);
  const run = bouncer(prepared, test.stepS === undefined ? MOST_HALVINGS : 0);
  const byOrientation: DropBounce[] = [];
  for (const { name, down } of orientations) {
    const arrival = fallen(dropped, test, down);
    const onProgress = (share: number) => hooks.onProgress?.((byOrientation.length + share) / orientations.length);
    const record = run(arrival, { isCancelled: hooks.isCancelled, onProgress }, down);
    if (record.end === 'cancelled') return { kind: 'cancelled', byOrientation };
    byOrientation.push(bounceReport({ ...record, end: record.end }, prepared, { orientation: name, down, heightMm, drag }));
  }
  return dropReport(byOrientation, heightMm, prepared.stepS);
}

/** How a part meets the floor after its fall, `down` first. */
export function fallen(dropped: Dropped, test: Omit<DropTest, 'orientations'>, down: Direction): Arrival {
  const velocity = [0, 0, -fallSpeed(test.heightMm, dropped.massT, dragOf(dropped, test))];
  return { turn: turnDown(down), velocity, spin: [0, 0, 0], friction: test.friction ?? 0 };
}

const dragOf = ({ frame }: Dropped, { drag }: Pick<DropTest, 'drag'>): Drag | null =>
  drag ? { ...drag, diameterMm: circumscribed(frame.graph) } : null;

/** Diameter of the sphere about the mean node that holds every node's sphere, mm. */
function circumscribed({ nodeCount, xyz, nodeRadius }: StrutGraph): number {
  const centre = [0, 1, 2].map((k) => xyz.reduce((sum, x, at) => (at % 3 === k ? sum + x / nodeCount : sum), 0));
  let most = 0;
  for (let v = 0; v < nodeCount; v++) {
    most = Math.max(most, Math.hypot(xyz[3 * v] - centre[0], xyz[3 * v + 1] - centre[1], xyz[3 * v + 2] - centre[2]) + nodeRadius[v]);
  }
  return 2 * most;
}
