import { type Printing, type VariationFigures, variationOf } from './as-printed.ts';
import { type CalibratedValue, type CalibrationSpread, calibratedSpread } from './calibrated.ts';
import { CAUTIONS, type Warning } from './cautions.ts';
import { Cancelled, type Course, type EvaluationHooks, openCourse } from './course.ts';
import { G_MM3_PER_G_CM3, massFigures } from './figures.ts';
import { geometryOf } from './geometry.ts';
import { latticeOf, tilingOf } from './laid-out.ts';
import { grown, type Lattice, type ParameterSet, type StrutGraph, type StrutGrowth } from './lattice/index.ts';
import { type BuildFigures, type BuildOptions, type CostFigures, makingOf } from './making.ts';
import {
  type EngineError,
  type Mechanics,
  type MechanicsInput,
  type MechanicsTests,
  mechanicsOf,
  type ReferenceOfMechanics,
} from './mechanics.ts';
import { type MotionFigures, type Moving, motionOf } from './moving.ts';
import { planOf, type Stage } from './plan.ts';
import {
  type BuildVolume,
  clearOpenings,
  type Printability,
  type PrintMaterial,
  powderEscape,
  printability,
  smallestGap,
  withMark,
} from './print/index.ts';
import { type Balance, balance, integrateUnion, massProperties, slice, unionSurface } from './solid/index.ts';
import { compareTargets, type Target, type TargetFinding } from './targets.ts';

/** The contract's evaluation input with every key replaced by its record; units are in the names. */
export interface EngineInput {
  readonly parameterSet: ParameterSet;
  readonly material: PrintMaterial &
    MechanicsInput['material'] & { readonly strutGrowthMm?: StrutGrowth | null; readonly calibration?: CalibrationSpread | null };
  readonly buildVolume: BuildVolume;
  readonly reference: (ReferenceOfMechanics & { readonly targets: readonly Target[]; readonly peakForceN: number | null }) | null;
  readonly tests: MechanicsTests;
  readonly build?: BuildOptions;
}

interface Figures extends Mechanics {
  geometry: ReturnType<typeof geometryOf>;
  massProperties: ReturnType<typeof massFigures>;
  balance: Balance;
  motion: MotionFigures | null;
  variation: VariationFigures | null;
  printability: Printability;
  build: BuildFigures;
  cost: CostFigures | null;
}

export type EngineResult = Figures & { calibrated?: CalibratedValue[]; targets: TargetFinding[]; warnings: Warning[] };
/** What an evaluation leaves: its numbers and the lattice they belong to. */
export interface Evaluated {
  readonly result: EngineResult;
  readonly graph: StrutGraph;
  readonly lattice: Lattice;
  /** The lattice as designed, with its mark where it is to carry one: what is printed. */
  readonly marked: StrutGraph;
}
/** `partial`: the numbers so far; the parts of the result that were not reached are null. */
export type EvaluationOutcome =
  | ({ readonly kind: 'done' } & Evaluated)
  | { readonly kind: 'failed'; readonly error: EngineError; readonly partial: Evaluated | null }
  | { readonly kind: 'cancelled' };

/**
 * One evaluation: a tiling is laid on the carrier, struts on the tiling; the solid they form is weighed, balanced and sliced; then whether and how
 * it can be sintered, what the build takes and costs, and how it compares with the object it is to replace. Expected failures come back as
 * `failed` with a code: `refused-parameters`, `struts-intersect`, `currency-mismatch`, `no-room-for-mark`.
 */
export function evaluate(input: EngineInput, hooks: EvaluationHooks = {}): EvaluationOutcome {
  try {
    return run(input, hooks);
  } catch (error) {
    if (error instanceof Cancelled) return { kind: 'cancelled' };
    throw error;
  }
}

function run(input: EngineInput, hooks: EvaluationHooks): EvaluationOutcome {
  const course = openCourse(planOf(input.tests), hooks);
  const { parameterSet, material, buildVolume, reference } = input;
  const { orientation } = parameterSet.tiling;

  course.enter('tiling');
  const { constructed, tiling } = tilingOf(parameterSet, course.poll);

  course.enter('lattice');
  const laid = latticeOf(parameterSet, tiling);
  if (laid.kind === 'fault') return failed(laid.fault);
  course.poll();
  const lattice = material.strutGrowthMm ? grown(laid.lattice, material.strutGrowthMm, tiling.symmetry.rotations) : laid.lattice;
  const { graph, symmetry } = lattice;
  const gap = smallestGap(graph, symmetry, material.minGapMm ?? 0);
  if (gap.kind === 'fault') return failed(gap.fault);
  course.poll();
  const openings = clearOpenings(lattice);
  course.poll();
  const geometry = geometryOf(tiling, lattice, openings);
  const { outsideDiameterMm } = geometry;

  course.enter('mass');
  const surface = unionSurface(graph);
  const union = integrateUnion(graph, surface, symmetry, course.isCancelled);
  course.poll();
  const mass = massProperties(union.moments, [0, 0, 0], material.densityGCm3 * G_MM3_PER_G_CM3);

  course.enter('balance');
  const trueness = balance(graph, surface, union, mass, lattice.nodesPerLayer, course.poll);

  course.enter('slices');
  const profile = slice(graph, surface, symmetry, buildVolume.layerMm, course.isCancelled);

  // Before mechanics, which takes most of the time: a part that cannot carry its mark, or records that do not fit, are told at once.
  course.enter('build');
  const making = makingOf(
    { graph, symmetry, outsideDiameterMm, mass, profile, constructed, orientation },
    { material, volume: buildVolume, options: input.build ?? {} },
    course,
  );
  if (making.kind === 'fault') return failed(making.fault);

  const mechanics = mechanicsOf(
    { lattice, rotations: tiling.symmetry.rotations, massG: mass.mass, outsideDiameterMm, material, reference, tests: input.tests },
    course,
  );

  const moving = movingOf(
    input,
    {
      lattice,
      mass,
      outsideDiameterMm,
      lossFactor: material.lossFactor ?? null,
      slopeNPerMm: mechanics.figures.stiffness?.initialNPerMm ?? null,
    },
    course,
  );
  const printed = printedOf(
    input,
    { lattice, surface, union, circumferenceMm: geometry.circumferenceMm, dropPart: mechanics.dropPart },
    course,
  );

  course.enter('printability');
  const wayOut = powderEscape(lattice, openings);
  const originalPeakForceN = reference?.peakForceN ?? null;
  const checks = printability({
    lattice,
    outsideDiameterMm,
    material,
    volume: buildVolume,
    gap,
    openings,
    wayOut,
    profile,
    originalPeakForceN,
    mechanics: mechanics.findings,
  });

  course.enter('targets');
  const figures: Figures = {
    geometry,
    massProperties: massFigures(mass, graph, material.densityGCm3, outsideDiameterMm),
    balance: trueness,
    ...mechanics.figures,
    motion: moving.motion,
    variation: printed.variation,
    printability: checks,
    build: making.build,
    cost: making.cost,
  };
  const warnings = [
    ...warningsOf(input, tiling.relaxationResidual),
    ...mechanics.warnings,
    ...moving.warnings,
    ...printed.warnings,
    ...CAUTIONS,
  ];
  const calibrated = calibratedSpread(figures, material.calibration ?? null);
  const result = { ...figures, ...(calibrated && { calibrated }), targets: compareTargets(figures, reference?.targets ?? []), warnings };
  // What goes to the printer is as designed: it grows there.
  const marked = making.build.mark ? withMark(laid.lattice.graph, making.build.mark) : laid.lattice.graph;
  const evaluated = { result, graph, lattice, marked };
  const error = mechanics.error ?? moving.error ?? printed.error;
  if (error) return { kind: 'failed', error, partial: evaluated };
  return { kind: 'done', ...evaluated };
}

const failed = (error: EngineError): EvaluationOutcome => ({ kind: 'failed', error, partial: null });

const NOT_ASKED = { warnings: [], error: null };

/** How the part rolls and spins, where the tests ask for it. */
function movingOf({ tests }: EngineInput, moving: Moving, course: Course<Stage>) {
  if (!tests.motion) return { ...NOT_ASKED, motion: null };
  course.enter('motion');
  return motionOf(moving, tests.motion, course);
}

/** The variation study, where the tests ask for one. */
function printedOf({ material, reference, tests }: EngineInput, made: Omit<Printing, 'densityGMm3' | 'targets'>, course: Course<Stage>) {
  if (!tests.variation) return { ...NOT_ASKED, variation: null };
  course.enter('variation');
  const densityGMm3 = material.densityGCm3 * G_MM3_PER_G_CM3;
  return variationOf({ ...made, densityGMm3, targets: reference?.targets ?? [] }, tests.variation, course);
}

function warningsOf({ parameterSet, material: { strutGrowthMm } }: EngineInput, residual: number): Warning[] {
  const warnings: Warning[] = [];
  if (strutGrowthMm) {
    const [inLayer, upright] = [strutGrowthMm.inLayer, strutGrowthMm.upright].map((mm) => Number(mm.toPrecision(3)));
    const message = `All figures are of the part as this material prints: struts ${inLayer} mm thicker in the layer and ${upright} mm along the build axis than designed.`;
    warnings.push({ code: 'as-printed', message });
  }
  if (residual > 1e-9) {
    const what = parameterSet.tiling.relaxation === 'equal-areas' ? 'cell areas' : 'edges';
    warnings.push({
      code: 'relaxation-incomplete',
      message: `The relaxation left ${what} that differ from their mean by up to ${(100 * residual).toPrecision(3)} %: the symmetry leaves no freedom to even them.`,
    });
  }
  return warnings;
}
