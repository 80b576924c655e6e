import type { VariationTest } from './as-printed.ts';
import type { Warning } from './cautions.ts';
import type { Course } from './course.ts';
import { type JointRange, jointRange, type StrutFrame } from './frame/index.ts';
import { type DirectionFactors, framedAt, unitFrame } from './framed.ts';
import { orientationsOf } from './impact/index.ts';
import { inflatedPeakForce } from './inflated.ts';
import type { Lattice } from './lattice/index.ts';
import type { StrainLife } from './life/index.ts';
import { type LifeFigures, lifeOf } from './lifetime.ts';
import { type MaterialAt, type MechanicalMaterial, materialAt } from './material-at.ts';
import type { MotionTest } from './moving.ts';
import type { MechanicsFindings } from './print/index.ts';
import { type DropConditions, numbersOf, type ReboundFigures, reboundOf, settleDrop, worstOf } from './rebound.ts';
import { ringing, type VibrationFigures } from './ringing.ts';
import { type StiffnessFigures, squeeze } from './squeeze.ts';
import { thrownOf } from './thrown.ts';
import type { Bounced, BouncingPart } from './vary/index.ts';

export const MECHANICS_STAGES = ['compression', 'vibration', 'drop', 'throw', 'life'] as const;
export type MechanicsStage = (typeof MECHANICS_STAGES)[number];

/** What mechanics is asked for. */
export interface MechanicsTests {
  readonly depth: 'geometry' | 'static' | 'full';
  readonly temperatureC?: number;
  readonly drop?: DropConditions;
  readonly compression?: { readonly toPctOfDiameter: number; readonly secantAtPct: number };
  readonly frequencies?: number;
  readonly motion?: MotionTest;
  readonly variation?: VariationTest;
}

/** What mechanics reads of the object to be matched. */
export interface ReferenceOfMechanics {
  readonly dropHeightMm: number | null;
  readonly inflation: { readonly pressureBar: number } | null;
}

export interface MechanicsInput {
  readonly lattice: Lattice;
  /** The tiling's group of rotations, row-major, 9 each. */
  readonly rotations: Float64Array;
  /** Of the union. */
  readonly massG: number;
  readonly outsideDiameterMm: number;
  readonly material: MechanicalMaterial & {
    readonly directionFactors?: DirectionFactors | null;
    readonly jointFactor?: number | null;
    readonly strainLife: StrainLife | null;
  };
  readonly reference: ReferenceOfMechanics | null;
  readonly tests: MechanicsTests;
}

/** An expected failure: typed, with the numbers that explain it. */
export interface EngineError {
  code: string;
  message: string;
  details?: Record<string, unknown>;
}

/** The parts of a result that need mechanics; null where the depth leaves them out or a failure kept them away. */
export interface Mechanics {
  material: ReturnType<typeof materialFigures> | null;
  joints: JointRange | null;
  stiffness: StiffnessFigures | null;
  vibration: VibrationFigures | null;
  rebound: ReboundFigures | null;
  life: LifeFigures | null;
}

export interface MechanicsOutcome {
  readonly figures: Mechanics;
  readonly warnings: Warning[];
  readonly findings: MechanicsFindings | undefined;
  /** Drops a part that printed otherwise than designed; null at depths without a drop. */
  readonly dropPart: ((part: BouncingPart) => Bounced) | null;
  /** The first failure. What does not depend on what failed is computed all the same. */
  readonly error: EngineError | null;
}

const NO_MECHANICS: Mechanics = { material: null, joints: null, stiffness: null, vibration: null, rebound: null, life: null };
/** Of natural frequencies. */
const USUAL_COUNT = 10;
const NOTHING = { figures: NO_MECHANICS, warnings: [], findings: undefined, dropPart: null, error: null };

/** How a lattice gives, rings and bounces, and how long it lasts, as far as the tests ask for. */
export function mechanicsOf(input: MechanicsInput, course: Course<MechanicsStage>): MechanicsOutcome {
  const { lattice, material: record, tests } = input;
  if (tests.depth === 'geometry') return NOTHING;
  const material = materialAt(record, tests.temperatureC);
  if (material.kind === 'refused') return { ...NOTHING, error: { code: material.code, message: material.message } };
  course.enter('compression');
  const unit = unitFrame(lattice.graph, record.poisson, { jointFactor: record.jointFactor ?? 1, poll: course.poll });
  const joints = jointRange(lattice.graph);
  course.poll();
  const frameFor = (modulusMPa: number) => framedAt(unit, modulusMPa, record.directionFactors ?? null);

  const hooks = { isCancelled: course.isCancelled, onProgress: course.reach, poll: course.poll };
  const squeezed = squeeze({ ...input, frame: frameFor(material.quasiStaticMPa), material, test: tests.compression }, hooks);

  course.enter('vibration');
  const rung = ringing({
    ...input,
    frame: frameFor(material.modulusMPa),
    poisson: record.poisson,
    count: tests.frequencies ?? USUAL_COUNT,
    poll: course.poll,
  });

  const dropped = tests.depth === 'full' ? dropOf(input, { material, frame: frameFor(material.relaxation.longTermMPa) }, course) : null;
  const rebound = dropped?.rebound ?? null;
  if (rebound) course.enter('life');
  const life = rebound ? lifeOf(rebound, record.strainLife) : null;

  return {
    figures: {
      material: materialFigures(material),
      joints,
      stiffness: squeezed.stiffness,
      vibration: rung.vibration,
      rebound,
      life: life?.life ?? null,
    },
    warnings: [...jointWarnings(joints), ...(dropped?.warnings ?? []), ...(life?.warnings ?? [])],
    findings: { ...bounceFindings(input, rebound, life?.life ?? null), squeezed: squeezed.squeezed, buckling: squeezed.buckling },
    dropPart: tests.depth === 'full' ? partDropper(input, material, course.isCancelled) : null,
    error: squeezed.error ?? rung.error ?? dropped?.error ?? null,
  };
}

/** Drops a printed part once, each in the next of the orientations. */
function partDropper(input: MechanicsInput, material: MaterialAt, isCancelled: () => boolean) {
  const { lattice, rotations, reference, tests } = input;
  const { poisson, directionFactors } = input.material;
  const conditions = settleDrop(tests.drop, reference?.dropHeightMm ?? null);
  const orientations = orientationsOf(lattice, rotations, conditions.orientations, conditions.seed);
  return ({ index, graph, massG, modulusFactor, directionFactors: printed }: BouncingPart): Bounced => {
    const { upright, inLayer } = directionFactors ?? { upright: 1, inLayer: 1 };
    const factors = { upright: upright * printed.upright, inLayer: inLayer * printed.inLayer };
    const frame = framedAt(
      unitFrame(graph, poisson, { jointFactor: input.material.jointFactor ?? 1 }),
      material.relaxation.longTermMPa * modulusFactor,
      factors,
    );
    const orientation = orientations[index % orientations.length];
    const { rebound } = reboundOf({ frame, massG, material, orientations: [orientation], conditions }, { isCancelled });
    return rebound && numbersOf(rebound);
  };
}

interface Made {
  readonly material: MaterialAt;
  readonly frame: StrutFrame;
}

function dropOf({ lattice, rotations, massG, reference, tests }: MechanicsInput, made: Made, course: Course<MechanicsStage>) {
  course.enter('drop');
  const conditions = settleDrop(tests.drop, reference?.dropHeightMm ?? null);
  const orientations = orientationsOf(lattice, rotations, conditions.orientations, conditions.seed);
  const dropping = { ...made, massG, orientations, conditions, rotations };
  const { rebound, error } = reboundOf(dropping, { isCancelled: course.isCancelled, onProgress: course.reach, poll: course.poll });
  const warnings = conditions.assumed ? [HEIGHT_ASSUMED] : [];
  const { oblique } = tests.drop ?? {};
  if (!oblique || !rebound) return { rebound, error, warnings };
  course.enter('throw');
  const thrown = thrownOf(dropping, oblique, { isCancelled: course.isCancelled, onProgress: course.reach });
  return { rebound: { ...rebound, oblique: thrown.thrown }, error: error ?? thrown.error, warnings };
}

/** Told where struts or joints lie outside what the joint model was fitted to. */
function jointWarnings({ bandPct, stoutStruts, sharpNodes }: JointRange): Warning[] {
  if (stoutStruts === 0 && sharpNodes === 0) return [];
  const message = `Outside the range of the joint model lie ${stoutStruts} struts shorter than twice their diameter and ${sharpNodes} joints with struts closer together than 75 degrees: stiffness may lie ${bandPct} % off, and rebound, frequencies and strain with it.`;
  return [{ code: 'joint-model-range', message }];
}

const HEIGHT_ASSUMED: Warning = {
  code: 'drop-height-assumed',
  message: 'Neither the tests nor the reference give a drop height; 1800 mm was taken.',
};

function materialFigures({ kind: _, relaxation, ...rest }: MaterialAt) {
  const { longTermMPa, instantaneousMPa, branches } = relaxation;
  return { ...rest, longTermMPa, instantaneousMPa, relaxation: branches.map(({ timeS, ratio }) => ({ timeS, ratio })) };
}

/** What the checks of printability read of a bounce. */
function bounceFindings({ massG, outsideDiameterMm, reference }: MechanicsInput, rebound: ReboundFigures | null, life: LifeFigures | null) {
  if (!rebound) return { bounce: null, life: null, estimatedOriginalPeakForceN: null };
  const { dropHeightMm, peakForceN, peakStrainPct, byOrientation } = rebound;
  const { strut } = worstOf(byOrientation).peakStrainAt;
  const pressureBar = reference?.inflation?.pressureBar;
  return {
    bounce: { dropHeightMm, peakForceN, peakStrainPct, strut },
    life: life && { fromCycles: life.cyclesBand.min, strut },
    estimatedOriginalPeakForceN: pressureBar
      ? inflatedPeakForce({ pressureBar, massG, diameterMm: outsideDiameterMm, dropHeightMm })
      : null,
  };
}
