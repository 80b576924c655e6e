import type { BounceSetup } from './bounce.ts';
import type { FloorGauge } from './floor-gauge.ts';
import type { Ledger } from './ledger.ts';
import { NODE_NUMBERS } from './nodes.ts';

/**
 * left: off the floor for good. no-rebound: came to rest or fell back on the floor. bottoms-out: the upper half met the floor or what lies on it.
 * collapsed: a strut was bent beyond what the model can tell, or the fall never ended.
 */
export type BounceEnd = 'left' | 'no-rebound' | 'bottoms-out' | 'collapsed' | 'cancelled';

export interface Umpire {
  readonly progress: number;
  /** Null while the bounce goes on. */
  call(timeS: number, gauge: FloorGauge, ledger: Ledger): BounceEnd | null;
}

/** How far a section may be turned against its chord: the series of the struts' program is good to 1 % of the angle there. */
const SINE_LIMIT = 0.9;
/** How many times longer than the way down the way up may take: at a restitution of 0.1 it takes about as many. */
const LONGEST_WAY_UP = 12;

/** Decides when a bounce is over. Times are bounded, so every bounce ends. */
export function makeUmpire({ model, lattice, gravityMmS2 }: BounceSetup): Umpire {
  const { nodes } = model;
  const { positions, rates } = lattice.motion;
  const speed = -meanVertical(nodes.mass, rates, NODE_NUMBERS);
  const height = highest(positions);
  const centre = meanVertical(nodes.mass, positions, 3);
  const thickest = 2 * nodes.radius.reduce((most, each) => Math.max(most, each), 0);
  // Of a flat part that falls flat no node is above another.
  const upper = Int32Array.from(nodes.mass.keys()).filter(
    (v) => positions[3 * v + 2] > centre && positions[3 * v + 2] - nodes.radius[v] > 2 * thickest,
  );
  const clear = Math.min(0.02 * height, (0.1 * speed * speed) / (2 * gravityMmS2));
  const longestWayDown = (2 * height) / speed;
  let turnedAt = 0;
  let progress = 0;
  const lowestGap = () => {
    let lowest = Number.POSITIVE_INFINITY;
    for (let v = 0; v < nodes.count; v++) lowest = Math.min(lowest, positions[3 * v + 2] - nodes.radius[v]);
    return lowest;
  };
  return {
    get progress() {
      return progress;
    },
    call(timeS, gauge, { whole, account, broken }) {
      const rising = whole.velocity[2];
      if (broken || account.sine > SINE_LIMIT) return 'collapsed';
      for (const v of upper) if (positions[3 * v + 2] - nodes.radius[v] < thickest) return 'bottoms-out';
      if (turnedAt === 0 && rising > 0) turnedAt = timeS;
      progress = Math.max(progress, Math.min(1, (rising + speed) / (2 * speed)));
      if (turnedAt === 0) return timeS > longestWayDown ? 'collapsed' : null;
      if (gauge.forceN === 0 && (rising <= 0 || lowestGap() > clear)) return 'left';
      return rising <= 0 || timeS > LONGEST_WAY_UP * turnedAt ? 'no-rebound' : null;
    },
  };
}

function meanVertical(mass: Float64Array, vectors: Float64Array, stride: number): number {
  let [sum, total] = [0, 0];
  for (let v = 0; v < mass.length; v++) {
    sum += mass[v] * vectors[stride * v + 2];
    total += mass[v];
  }
  return sum / total;
}

function highest(positions: Float64Array): number {
  let most = 0;
  for (let k = 2; k < positions.length; k += 3) most = Math.max(most, positions[k]);
  return most;
}
