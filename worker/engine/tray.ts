import { CAUTIONS, type Warning } from './cautions.ts';
import { Cancelled, type Course, type EvaluationHooks, openCourse } from './course.ts';
import type { BuildPart } from './export/index.ts';
import { G_MM3_PER_G_CM3 } from './figures.ts';
import { outsideDiameterOf } from './geometry.ts';
import { latticeOf, tilingOf } from './laid-out.ts';
import type { ParameterSet, StrutGraph } from './lattice/index.ts';
import type { EngineError } from './mechanics.ts';
import {
  type BuildVolume,
  clearSizeMm,
  type PrintMaterial,
  planTray,
  shrinkageScale,
  smallestGap,
  type TrayLayers,
  type TrayPart,
  type TrayPartResult,
  type TrayPlan,
  type VersionMark,
  versionMark,
  withMark,
} from './print/index.ts';
import { integrateUnion, massProperties, slice, unionSurface } from './solid/index.ts';

/** Copies of one version, and the number they carry; null: none. */
export interface TrayInputPart {
  readonly versionId: string;
  readonly parameterSet: ParameterSet;
  readonly count: number;
  readonly mark: number | null;
}

export interface TrayInput {
  readonly parts: readonly TrayInputPart[];
  readonly material: PrintMaterial & { readonly densityGCm3: number };
  readonly buildVolume: BuildVolume;
}

export interface TrayResult extends Omit<TrayPlan, 'parts' | 'placements'> {
  parts: (Omit<TrayPartResult, 'id'> & { versionId: string; outsideDiameterMm: number; massG: number; mark: VersionMark | null })[];
  placements: { versionId: string; markedName: string; centreMm: [number, number, number]; diameterMm: number }[];
  /** Built size over designed size along x, y, z. */
  scale: [number, number, number];
  layerS: { min: number; mean: number; max: number };
  warnings: Warning[];
}

export interface PlannedTray {
  readonly result: TrayResult;
  readonly layers: TrayLayers;
  /** What stands in the tray, each with its places in the chamber. */
  readonly parts: readonly BuildPart[];
}

export type PlannedTrayOutcome =
  | ({ readonly kind: 'done' } & PlannedTray)
  | { readonly kind: 'failed'; readonly error: EngineError; readonly partial: null }
  | { readonly kind: 'cancelled' };

export const TRAY_STAGES = ['parts', 'packing'] as const;
type Stage = (typeof TRAY_STAGES)[number];

/** A part and the graph that is printed of it, mark and all. */
interface Made {
  readonly part: TrayPart;
  readonly graph: StrutGraph;
  readonly mark: VersionMark | null;
}

/**
 * Plans one tray of given versions: each is laid out, weighed and sliced, given its mark, and all are packed into the chamber. Copies that find no
 * place are listed. Expected failures come back as `failed`: a part that cannot be built (`refused-parameters`, `struts-intersect`) or marked
 * (`no-room-for-mark`), each naming its version; `refused-tray`, also when not one part finds a place; `currency-mismatch`.
 */
export function trayOf(input: TrayInput, hooks: EvaluationHooks = {}): PlannedTrayOutcome {
  const course = openCourse<Stage>(
    [
      ['parts', 400 * input.parts.length],
      ['packing', 300],
    ],
    hooks,
  );
  try {
    return run(input, course);
  } catch (error) {
    if (error instanceof Cancelled) return { kind: 'cancelled' };
    throw error;
  }
}

function run(input: TrayInput, course: Course<Stage>): PlannedTrayOutcome {
  const { material, buildVolume } = input;
  course.enter('parts');
  const made: Made[] = [];
  for (const [k, given] of input.parts.entries()) {
    const one = makePart(given, input, course.isCancelled);
    if (one.kind === 'fault') return failed(ofVersion(one.fault, given.versionId));
    made.push(one.made);
    course.reach((k + 1) / input.parts.length);
  }

  course.enter('packing');
  const outcome = planTray(
    made.map(({ part }) => part),
    buildVolume,
    material,
    course.poll,
  );
  if (outcome.kind === 'fault') return failed(outcome.fault);
  const { tray, layers } = outcome;
  if (tray.placements.length === 0) return failed(nothingFits(made, buildVolume));
  const scale = shrinkageScale(material);
  return { kind: 'done', result: resultOf(made, tray, layers, scale), layers, parts: placedParts(made, tray, scale) };
}

const failed = (error: EngineError): PlannedTrayOutcome => ({ kind: 'failed', error, partial: null });
const ofVersion = (fault: EngineError, versionId: string): EngineError => ({ ...fault, details: { versionId, ...fault.details } });

function makePart(
  { versionId, parameterSet, count, mark: number }: TrayInputPart,
  { material, buildVolume }: TrayInput,
  isCancelled: () => boolean,
): { kind: 'made'; made: Made } | { kind: 'fault'; fault: EngineError } {
  const laid = latticeOf(parameterSet, tilingOf(parameterSet).tiling);
  if (laid.kind === 'fault') return laid;
  const { graph, symmetry } = laid.lattice;
  const gap = smallestGap(graph, symmetry, material.minGapMm ?? 0);
  if (gap.kind === 'fault') return gap;
  const surface = unionSurface(graph);
  const mass = massProperties(integrateUnion(graph, surface, symmetry).moments, [0, 0, 0], material.densityGCm3 * G_MM3_PER_G_CM3);
  const profile = slice(graph, surface, symmetry, buildVolume.layerMm, isCancelled);
  const marking = number === null ? null : versionMark(graph, number, material, { massG: mass.mass, centreOfMassMm: mass.centre });
  if (marking?.kind === 'fault') return marking;
  const mark = marking?.mark ?? null;
  const part: TrayPart = {
    id: versionId,
    markedName: mark ? `mark ${mark.number}` : `version ${versionId}, no mark`,
    count,
    outsideDiameterMm: outsideDiameterOf(laid.lattice),
    massG: mark?.markedMassG ?? mass.mass,
    profile,
  };
  return { kind: 'made', made: { part, graph: mark ? withMark(graph, mark) : graph, mark } };
}

function nothingFits(made: readonly Made[], volume: BuildVolume): EngineError {
  const smallest = Math.min(...made.map(({ part }) => part.outsideDiameterMm));
  const clear = clearSizeMm(volume);
  return {
    code: 'refused-tray',
    message: `Not one of the parts finds a place: the smallest is ${smallest.toFixed(1)} mm as designed, and the clear room ${clear.map((side) => side.toFixed(1)).join(' x ')} mm.`,
    details: {
      left: made.map(({ part }) => ({ versionId: part.id, count: part.count, outsideDiameterMm: part.outsideDiameterMm })),
      clearSizeMm: clear,
    },
  };
}

function resultOf(
  made: readonly Made[],
  { parts, placements, ...rest }: TrayPlan,
  { seconds }: TrayLayers,
  scale: [number, number, number],
): TrayResult {
  return {
    ...rest,
    parts: parts.map(({ id, ...planned }, k) => {
      const { part, mark } = made[k];
      return { versionId: id, ...planned, outsideDiameterMm: part.outsideDiameterMm, massG: part.massG, mark };
    }),
    placements: placements.map(({ id, ...place }) => ({ versionId: id, ...place })),
    scale,
    layerS: {
      min: seconds.reduce((least, each) => Math.min(least, each)),
      mean: seconds.reduce((sum, each) => sum + each, 0) / seconds.length,
      max: seconds.reduce((most, each) => Math.max(most, each)),
    },
    warnings: [...CAUTIONS],
  };
}

/** A part's origin stands at the centre of its sphere; the chamber's lower corner is the origin of the build. */
function placedParts(made: readonly Made[], { placements }: TrayPlan, scale: [number, number, number]): BuildPart[] {
  const parts = made.map(({ part, graph }) => ({
    graph,
    name: part.markedName,
    placements: placements.filter(({ id }) => id === part.id).map(({ centreMm: [x, y, z] }) => ({ x, y, z, scale })),
  }));
  return parts.filter((part) => part.placements.length > 0);
}
