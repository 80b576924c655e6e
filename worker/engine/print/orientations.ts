import type { StrutGraph } from '../lattice/index.ts';
import type { LayerProfile } from '../solid/index.ts';
import type { Arrangement } from './arrange.ts';
import { buildTime } from './build-time.ts';
import { most } from './check.ts';
import { buildCost } from './cost.ts';
import { PRACTICE } from './practice.ts';
import { largestJump } from './profile-figures.ts';
import { strutAxis } from './strut-axis.ts';
import type { BuildVolume, Money, PrintFault, PrintMaterial } from './types.ts';

/** The same part turned one way; z is up in the build. */
export interface TurnedPart {
  readonly orientation: string;
  readonly graph: StrutGraph;
  readonly profile: LayerProfile;
}

export interface OrientationFigures {
  orientation: string;
  /** Of a full build. */
  totalHours: number;
  /** At a full build; null when no part fits. */
  totalPerPart: Money | null;
  largestLayerAreaMm2: number;
  largestLayerAreaJumpMm2: number;
  /** Mean height of the steps that layers leave on the sides of the outer layer's struts. */
  meanStairStepMm: number;
  /** Longest strut that lies level, melted over loose powder for its whole length; 0 where none does. */
  longestLevelStrutMm: number;
  /** Share of the struts' length that stands upright, pulled apart across the layers when the strut is stretched. */
  uprightSharePct: number;
}

/** The best orientation by one figure, and how far the others fall short: 100 (largest - least) / largest. */
export interface OrientationChoice {
  orientation: string;
  spreadPct: number;
}

export interface OrientationComparison {
  figures: OrientationFigures[];
  /** By the cost of a part at a full build; null when no part fits. */
  cheapest: OrientationChoice | null;
  /** By the steps on the outer struts. */
  roundest: OrientationChoice;
  /** By the largest layer-area jump: where much melts at once over loose powder, parts curl and are torn off. */
  safest: OrientationChoice;
  assumptions: string[];
}

export type OrientationOutcome =
  | { readonly kind: 'done'; readonly comparison: OrientationComparison }
  | { readonly kind: 'fault'; readonly fault: PrintFault };

/**
 * Compares ways up of one part, at least one: the same arrangement of spheres holds for all, so layers, steps and jumps are what differs. A
 * choice is the first with the least figure. massG: mass of one part. Fault `currency-mismatch`, as in buildCost.
 */
export function compareOrientations(
  parts: readonly TurnedPart[],
  arrangement: Arrangement,
  massG: number,
  material: PrintMaterial,
  volume: BuildVolume,
): OrientationOutcome {
  const figures: OrientationFigures[] = [];
  for (const { orientation, graph, profile } of parts) {
    const build = buildTime(profile, arrangement, material, volume);
    const outcome = buildCost(build, massG, material, volume);
    if (outcome.kind === 'fault') return outcome;
    figures.push({
      orientation,
      totalHours: build.totalHours,
      totalPerPart: outcome.cost?.totalPerPart ?? null,
      largestLayerAreaMm2: Math.max(0, most(profile.areaMm2)),
      largestLayerAreaJumpMm2: largestJump(profile).jumpMm2,
      meanStairStepMm: meanStairStep(graph, volume.layerMm),
      ...lying(graph),
    });
  }
  const comparison = {
    figures,
    cheapest: arrangement.count === 0 ? null : least(figures, ({ totalPerPart }) => totalPerPart?.amount ?? Infinity),
    roundest: least(figures, ({ meanStairStepMm }) => meanStairStepMm),
    safest: least(figures, ({ largestLayerAreaJumpMm2 }) => largestLayerAreaJumpMm2),
    assumptions: ASSUMPTIONS,
  };
  return { kind: 'done', comparison };
}

const { levelWithin, uprightWithin } = PRACTICE;
const ASSUMPTIONS = [
  'Every orientation stands in the same arrangement, as its circumscribed sphere: neither the number of parts nor their spacing depends on it.',
  "Roundest: a surface is stepped by the layer thickness times the vertical part of its normal; shown is the mean over the sides of the outer layer's struts. How far the part sags or shrinks unevenly is not known.",
  'Safest: the largest growth of the section of one part from one layer to the next; no limit for curling is known.',
  `A strut lies level within ${levelWithin.degrees} degrees, and stands upright within ${uprightWithin.degrees} degrees of the vertical (${levelWithin.source}).`,
];

function least(figures: readonly OrientationFigures[], figure: (each: OrientationFigures) => number): OrientationChoice {
  const values = figures.map(figure);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return { orientation: figures[values.indexOf(low)].orientation, spreadPct: high > 0 ? (100 * (high - low)) / high : 0 };
}

/**
 * Layer thickness times the mean of |vertical part of the normal| over the sides of the outer layer's struts (all struts where none has that
 * role): round a cylinder whose axis has the vertical part c that is 2 / pi * sqrt(1 - c^2). Taper changes the weights only.
 */
function meanStairStep(graph: StrutGraph, layerMm: number): number {
  const outer = graph.roleNames.indexOf('layer-0');
  let [sum, area] = [0, 0];
  for (let s = 0; s < graph.strutCount; s++) {
    if (outer >= 0 && graph.roles[s] !== outer) continue;
    const { along, length } = strutAxis(graph, s);
    const side = length * (graph.diameters[2 * s] + graph.diameters[2 * s + 1]);
    sum += side * Math.hypot(along[0], along[1]);
    area += side;
  }
  return (layerMm * 2 * sum) / (Math.PI * area);
}

function lying(graph: StrutGraph): { longestLevelStrutMm: number; uprightSharePct: number } {
  const [level, upright] = [Math.sin((levelWithin.degrees * Math.PI) / 180), Math.cos((uprightWithin.degrees * Math.PI) / 180)];
  let [longestLevelStrutMm, standing, all] = [0, 0, 0];
  for (let s = 0; s < graph.strutCount; s++) {
    const { along, length } = strutAxis(graph, s);
    all += length;
    if (Math.abs(along[2]) <= level) longestLevelStrutMm = Math.max(longestLevelStrutMm, length);
    if (Math.abs(along[2]) >= upright) standing += length;
  }
  return { longestLevelStrutMm, uprightSharePct: (100 * standing) / all };
}
