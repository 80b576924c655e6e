import type { Warning } from './cautions.ts';
import type { Course } from './course.ts';

import { type DirectionFactors, framedAt } from './framed.ts';
import { orientationsOf } from './impact/index.ts';
import type { Lattice } from './lattice/index.ts';
import { type MaterialAt, type MechanicalMaterial, materialAt } from './material-at.ts';
import { plainFrame } from './plain-frame.ts';
import { type DropConditions, type ReboundFigures, reboundOf, settleDrop } from './rebound.ts';

export const MECHANICS_STAGES = ['compression', 'vibration', 'drop', 'life'] as const;
export type MechanicsStage = (typeof MECHANICS_STAGES)[number];

/** What mechanics is asked for. */
export interface MechanicsTests {
  readonly depth: 'geometry' | 'static' | 'full';
  readonly temperatureC?: number;
  readonly drop?: DropConditions;
  readonly compression?: { readonly toPctOfDiameter: number; readonly secantAtPct: number };
  readonly frequencies?: number;
}

export interface MechanicsInput {
  readonly lattice: Lattice;
  /** The tiling's group of rotations, row-major, 9 each. */
  readonly rotations: Float64Array;
  /** Of the union. */
  readonly massG: number;
  readonly material: MechanicalMaterial & { readonly directionFactors?: DirectionFactors | null };
  readonly reference: { readonly dropHeightMm: number | null } | null;
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
  stiffness: null;
  vibration: null;
  rebound: ReboundFigures | null;
  life: null;
}

export interface MechanicsOutcome {
  readonly figures: Mechanics;
  readonly warnings: Warning[];
  /** The first failure. What does not depend on what failed is computed all the same. */
  readonly error: EngineError | null;
}

export const NO_MECHANICS: Mechanics = { material: null, stiffness: null, vibration: null, rebound: null, life: null };

/** How a lattice gives, rings and bounces, as far as the tests ask for. */
export function mechanicsOf(input: MechanicsInput, course: Course<MechanicsStage>): MechanicsOutcome {
  const { lattice, material: record, tests } = input;
  if (tests.depth === 'geometry') return { figures: NO_MECHANICS, warnings: [], error: null };
  const material = materialAt(record, tests.temperatureC);
  if (material.kind === 'refused')
    return { figures: NO_MECHANICS, warnings: [], error: { code: material.code, message: material.message } };
  const figures: Mechanics = { ...NO_MECHANICS, material: materialFigures(material) };
  const warnings: Warning[] = [];
  const unit = plainFrame(lattice.graph, { modulusMPa: 1, poisson: record.poisson });
  const frameFor = (modulusMPa: number) => framedAt(unit, modulusMPa, record.directionFactors ?? null);
  let error: EngineError | null = null;

  if (tests.depth === 'full') {
    course.enter('drop');
    const conditions = settleDrop(tests.drop, input.reference?.dropHeightMm ?? null);
    const orientations = orientationsOf(lattice, input.rotations, conditions.orientations, conditions.seed);
    const frame = frameFor(material.relaxation.longTermMPa);
    const hooks = { isCancelled: course.isCancelled, onProgress: course.reach };
    const dropped = reboundOf({ frame, massG: input.massG, material, orientations, conditions }, hooks);
    figures.rebound = dropped.rebound;
    error ??= dropped.error;
    if (conditions.assumed) warnings.push(HEIGHT_ASSUMED);
  }
  return { figures, warnings, error };
}

const HEIGHT_ASSUMED: Warning = {
  code: 'drop-height-assumed',
  message: 'Neither the tests nor the reference give a drop height; 1800 mm was taken.',
};

function materialFigures({ kind: _, relaxation, ...rest }: MaterialAt) {
  const { longTermMPa, instantaneousMPa, branches } = relaxation;
  return { ...rest, longTermMPa, instantaneousMPa, relaxation: branches.map(({ timeS, ratio }) => ({ timeS, ratio })) };
}
