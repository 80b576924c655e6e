import { type Deviates, type Distribution, deviates, distribution } from '../probability/index.ts';
import type { Quaternion } from './attitude.ts';
import type { RigidBody } from './rigid-body.ts';
import { type RollTrack, roll, stableStep } from './roll.ts';
import { GRAVITY } from './rolling-body.ts';

export interface RollTest {
  readonly distanceMm: number;
  readonly speedMmS: number;
  /** How many attitudes it is started from, and what they are drawn with. */
  readonly starts: number;
  readonly seed: number;
  /** Of one sphere of the part on the floor; null: nearly rigid, so that its own weight sinks it by RIGID_SINK_MM. */
  readonly stiffnessNPerMm: number | null;
  /** tan delta of that stiffness. */
  readonly lossFactor: number;
  readonly friction: number;
}

export interface RollHooks {
  readonly reach?: (share: number) => void;
  readonly isCancelled?: () => boolean;
}

export interface RollReport {
  readonly kind: 'rolled';
  /** Distance from the straight line at the end of the way, mm, without sign, of the starts that came so far; null with fewer than two. */
  readonly deviationMm: Distribution | null;
  /** Largest over all starts, at any time, mm. */
  readonly largestDeviationMm: number;
  /** Root mean square of the deviations as an angle from the start, degrees; null where none arrived. */
  readonly deviationDeg: number | null;
  readonly arrived: number;
  readonly byStart: readonly RollTrack[];
  /** What the centre of mass alone does at its worst, beside the middle along the axis of roll: a round ball, small offset, no rolling resistance. */
  readonly offsetAloneMm: number;
  readonly balanceErrorPct: number;
  readonly assumptions: readonly string[];
  readonly warnings: readonly { readonly code: 'roll-stopped' | 'roll-account'; readonly message: string }[];
}
export interface RollRefusal {
  readonly kind: 'refused';
  readonly code: 'roll-out-of-range' | 'roll-too-soft' | 'roll-too-long';
  readonly message: string;
}

const RIGID_SINK_MM = 0.02;
/** Time steps of all starts together: some minutes. */
const MOST_STEPS = 2e8;
const MOST_BALANCE_ERROR_PCT = 0.5;
const RANGES = { distanceMm: [10, 20_000], speedMmS: [100, 20_000], starts: [1, 1000], lossFactor: [0, 2], friction: [0, 2] } as const;

/** Rolls a part over a flat floor from seeded attitudes and tells how far it strays from a straight line. */
export function rollTest(body: RigidBody, test: RollTest, hooks: RollHooks = {}): RollReport | RollRefusal {
  const { distanceMm, speedMmS, starts, seed, lossFactor, friction } = test;
  for (const [name, [least, most]] of Object.entries(RANGES)) {
    const value = test[name as keyof typeof RANGES];
    if (!(value >= least && value <= most))
      return { kind: 'refused', code: 'roll-out-of-range', message: `${name} is ${value}; allowed: ${least} to ${most}` };
  }
  const radius = radiusOf(body);
  const weight = body.massT * GRAVITY;
  const stiffnessNPerMm = test.stiffnessNPerMm ?? weight / RIGID_SINK_MM;
  if (!(stiffnessNPerMm > (20 * weight) / radius))
    return {
      kind: 'refused',
      code: 'roll-too-soft',
      message: `The part would sink by ${(weight / stiffnessNPerMm).toPrecision(3)} mm under its own weight; allowed: a twentieth of its radius`,
    };
  const dampingS = lossFactor / Math.sqrt(stiffnessNPerMm / body.massT);
  const floor = { stiffnessNPerMm, dampingS, friction };
  const steps = (starts * distanceMm) / speedMmS / stableStep(body, floor, radius);
  if (steps > MOST_STEPS) {
    const message = `The rolls take ${steps.toPrecision(2)} time steps; allowed: ${MOST_STEPS}. Fewer starts, a shorter way or softer spheres take less.`;
    return { kind: 'refused', code: 'roll-too-long', message };
  }
  const byStart: RollTrack[] = [];
  for (let k = 0; k < starts && !hooks.isCancelled?.(); k++) {
    const track = roll(body, anyAttitude(deviates(seed, k)), { distanceMm, speedMmS, floor, isCancelled: hooks.isCancelled });
    if (track.kind !== 'cancelled') byStart.push(track);
    hooks.reach?.((k + 1) / starts);
  }
  const arrived = byStart.filter(({ kind }) => kind === 'arrived').map(({ deviationMm }) => Math.abs(deviationMm));
  const balanceErrorPct = Math.max(0, ...byStart.map((track) => track.balanceErrorPct));
  return {
    kind: 'rolled',
    deviationMm: arrived.length > 1 ? distribution(arrived) : null,
    largestDeviationMm: Math.max(0, ...byStart.map((track) => track.largestDeviationMm)),
    deviationDeg: arrived.length > 0 ? (Math.atan(Math.hypot(...arrived) / Math.sqrt(arrived.length) / distanceMm) * 180) / Math.PI : null,
    arrived: arrived.length,
    byStart,
    offsetAloneMm: offsetAlone(body, radius, test),
    balanceErrorPct,
    assumptions: assumptionsOf(test, stiffnessNPerMm),
    warnings: warningsOf(byStart, distanceMm, balanceErrorPct),
  };
}

/**
 * Gravity's moment m g e about the contact turns the angular momentum (I + m R^2) v / R about it, so the way bends with the curvature
 * m g e R / ((I + m R^2) v^2), which leaves half of it times s^2 after the distance s.
 */
function offsetAlone({ massT, centreMm, inertia }: RigidBody, radius: number, { distanceMm, speedMmS }: RollTest): number {
  const mean = (inertia[0][0] + inertia[1][1] + inertia[2][2]) / 3;
  const bend = (massT * GRAVITY * Math.hypot(...centreMm) * radius) / ((mean + massT * radius * radius) * speedMmS * speedMmS);
  return (bend * distanceMm * distanceMm) / 2;
}

const radiusOf = ({ xyz, radius }: RigidBody): number =>
  radius.reduce((most, r, v) => Math.max(most, r + Math.hypot(xyz[3 * v], xyz[3 * v + 1], xyz[3 * v + 2])), 0);

/** Evenly over all attitudes: a direction on the sphere of quaternions. */
function anyAttitude(source: Deviates): Quaternion {
  const q = Float64Array.from({ length: 4 }, () => source.normal());
  const length = Math.hypot(...q);
  return q.map((x) => x / length);
}

const assumptionsOf = ({ lossFactor, friction, stiffnessNPerMm }: RollTest, used: number): string[] => [
  'The part is rigid but for a spring under every node sphere of its outer layer; the floor is flat, level and clean; no drag.',
  `Stiffness of one sphere ${used.toPrecision(3)} N/mm${stiffnessNPerMm === null ? ' (nearly rigid: a softer part feels its corners less)' : ''}, loss factor ${lossFactor}, friction ${friction}.`,
  'It starts without slip, from attitudes drawn evenly. At hard corners the way is a matter of chance, so read the spread and not a single start.',
];

function warningsOf(tracks: readonly RollTrack[], distanceMm: number, balance: number): RollReport['warnings'] {
  const warnings: RollReport['warnings'][number][] = [];
  const stopped = tracks.filter(({ kind }) => kind === 'stopped');
  if (stopped.length > 0) {
    const least = Math.min(...stopped.map((track) => track.distanceMm));
    const message = `${stopped.length} of ${tracks.length} starts did not come ${distanceMm} mm far, the shortest ${least.toPrecision(3)} mm: their corners take too much.`;
    warnings.push({ code: 'roll-stopped', message });
  }
  if (balance > MOST_BALANCE_ERROR_PCT)
    warnings.push({
      code: 'roll-account',
      message: `The energy account misses ${balance.toPrecision(2)} %, so the ways are not to be trusted.`,
    });
  return warnings;
}
