import type { Course } from './course.ts';
import type { Lattice } from './lattice/index.ts';
import { freeSpin, type RollReport, rigidBodyOf, rollTest, unbalance } from './motion/index.ts';
import type { MassProperties } from './solid/index.ts';

/** What is asked of a part in motion; what is left out has its default here. */
export interface MotionTest {
  readonly roll?: {
    readonly distanceMm: number;
    readonly speedMS: number;
    readonly starts: number;
    readonly seed: number;
    readonly friction: number;
    /** Of one node sphere on the floor; left out: twice the slope between plates where that is known, else nearly rigid. */
    readonly stiffnessNPerMm?: number;
  };
  readonly spin?: { readonly spinRadS: number; readonly axis: readonly [number, number, number] };
}

export interface Moving {
  readonly lattice: Lattice;
  readonly mass: MassProperties;
  readonly outsideDiameterMm: number;
  readonly lossFactor: number | null;
  /** Force per approach of two plates, where it was computed: the part gives at both, so each side is twice as stiff. */
  readonly slopeNPerMm: number | null;
}

const MM_PER_M = 1000;
/** Of a material that gives relaxation terms instead. */
const USUAL_LOSS_FACTOR = 0.1;

/** The contract's motion: how a rigid part rolls and how it turns in the air. */
export function motionOf(
  { lattice, mass, outsideDiameterMm, lossFactor, slopeNPerMm }: Moving,
  { roll, spin }: MotionTest,
  course: Pick<Course<string>, 'reach' | 'isCancelled'>,
) {
  const body = rigidBodyOf(lattice, mass);
  const stiffnessNPerMm = roll?.stiffnessNPerMm ?? (slopeNPerMm === null ? null : 2 * slopeNPerMm);
  const rolled = roll
    ? rollTest(
        body,
        {
          ...{ distanceMm: roll.distanceMm, speedMmS: MM_PER_M * roll.speedMS, starts: roll.starts, seed: roll.seed },
          ...{ stiffnessNPerMm, lossFactor: lossFactor ?? USUAL_LOSS_FACTOR, friction: roll.friction },
        },
        course,
      )
    : null;
  if (rolled?.kind === 'refused') return { motion: null, warnings: [], error: { code: rolled.code, message: rolled.message } };
  const motion = {
    roll: rolled && rollFigures(rolled),
    spin: spin
      ? { ...freeSpin(body, spin.axis, spin.spinRadS, outsideDiameterMm / 2), ...unbalanceFigures(mass, spin.spinRadS, outsideDiameterMm) }
      : null,
  };
  return { motion, warnings: [...(rolled?.warnings ?? [])], error: null };
}

export type MotionFigures = NonNullable<ReturnType<typeof motionOf>['motion']>;

const rollFigures = ({ kind: _, byStart, warnings: __, assumptions, ...report }: RollReport) => ({
  ...report,
  starts: byStart.length,
  assumptions: [...assumptions],
});

function unbalanceFigures({ mass, centre }: MassProperties, spinRadS: number, outsideDiameterMm: number) {
  const { unbalanceGMm, speedMmS, relative } = unbalance(mass, Math.hypot(...centre), spinRadS, outsideDiameterMm / 2);
  return { unbalanceGMm, centreSpeedMmS: speedMmS, centreOffsetPct: 100 * relative };
}
