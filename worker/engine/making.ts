import type { Course } from './course.ts';
import { type GraphSymmetry, type StrutGraph, turned } from './lattice/index.ts';
import {
  type Arrangement,
  type AsBuilt,
  arrangements,
  asBuilt,
  type BuildEstimate,
  type BuildVolume,
  buildCost,
  buildTime,
  type CostEstimate,
  type CostPoint,
  compareOrientations,
  costCurve,
  type OrientationComparison,
  type OrientationOutcome,
  type PrintFault,
  type PrintMaterial,
  type VersionMark,
  versionMark,
} from './print/index.ts';
import { type LayerProfile, type MassProperties, slice, unionSurface } from './solid/index.ts';
import { type Orientation, type Tiling, turnBetween } from './tiling/index.ts';

/** What of making is only done when it is asked for. */
export interface BuildOptions {
  /** Number that the part is to carry as a mark. */
  readonly mark?: number;
  readonly compareOrientations?: boolean;
}

export interface BuildFigures extends BuildEstimate {
  asBuilt: AsBuilt;
  /** null: not asked for. */
  mark: VersionMark | null;
  orientations: OrientationComparison | null;
}
export interface CostFigures extends CostEstimate {
  curve: CostPoint[];
}

export interface PartToMake {
  readonly graph: StrutGraph;
  readonly symmetry: GraphSymmetry | null;
  readonly outsideDiameterMm: number;
  readonly mass: MassProperties;
  readonly profile: LayerProfile;
  /** Of its tiling: as constructed, and which way it is turned. */
  readonly constructed: Tiling;
  readonly orientation: Orientation;
}

export interface MakingInput {
  readonly material: PrintMaterial & { readonly densityGCm3: number };
  readonly volume: BuildVolume;
  readonly options: BuildOptions;
}

export type MakingOutcome =
  | {
      readonly kind: 'done';
      readonly build: BuildFigures;
      /** null: not even one part fits. */
      readonly cost: CostFigures | null;
    }
  | { readonly kind: 'fault'; readonly fault: PrintFault };

/** What a full build of one part takes and costs, and as many as one to a full build of them; its mark and other ways up where asked for. */
export function makingOf(part: PartToMake, input: MakingInput, course: Pick<Course<string>, 'poll' | 'isCancelled'>): MakingOutcome {
  const { graph, profile, outsideDiameterMm, mass } = part;
  const { material, volume, options } = input;
  const marking =
    options.mark === undefined ? null : versionMark(graph, options.mark, material, { massG: mass.mass, centreOfMassMm: mass.centre });
  if (marking?.kind === 'fault') return marking;
  const mark = marking?.mark ?? null;
  const massG = mark?.markedMassG ?? mass.mass;

  const all = arrangements(outsideDiameterMm, material, volume, course.poll);
  const full = all.take(all.most);
  course.poll();
  const build = buildTime(profile, full, material, volume);
  const cost = buildCost(build, massG, material, volume);
  if (cost.kind === 'fault') return cost;
  const curve = costCurve({ profile, massG }, all, material, volume, course.poll);
  if (curve.kind === 'fault') return curve;
  const compared = options.compareOrientations ? comparisonOf(part, input, { massG, full, isCancelled: course.isCancelled }) : null;
  if (compared?.kind === 'fault') return compared;
  return {
    kind: 'done',
    build: {
      ...build,
      asBuilt: asBuilt(graph, outsideDiameterMm, mass.volume, material),
      mark,
      orientations: compared?.comparison ?? null,
    },
    cost: cost.cost && { ...cost.cost, curve: curve.curve },
  };
}

const WAYS_UP = ['split-plane', 'pentagon-up', 'hexagon-up'] as const satisfies readonly Orientation[];

interface InTheChamber {
  readonly massG: number;
  readonly full: Arrangement;
  isCancelled(): boolean;
}

/** The part as designed, turned every way; one that it stands in already is not sliced again. */
function comparisonOf(part: PartToMake, { material, volume }: MakingInput, { massG, full, isCancelled }: InTheChamber): OrientationOutcome {
  const parts = WAYS_UP.map((orientation) => {
    if (orientation === part.orientation) return { orientation, graph: part.graph, profile: part.profile };
    const { graph, symmetry } = turned(part.graph, part.symmetry, turnBetween(part.constructed, part.orientation, orientation));
    return { orientation, graph, profile: slice(graph, unionSurface(graph), symmetry, volume.layerMm, isCancelled) };
  });
  return compareOrientations(parts, full, massG, material, volume);
}
