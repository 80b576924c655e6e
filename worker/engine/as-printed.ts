import type { Warning } from './cautions.ts';
import type { Course } from './course.ts';
import type { Lattice } from './lattice/index.ts';
import type { EngineError } from './mechanics.ts';
import type { Union, UnionSurface } from './solid/index.ts';
import { SHORT_NAMES, type Target } from './targets.ts';
import {
  type Bounced,
  type BouncingPart,
  COMMON_VARIATION,
  VARIATION_SOURCES,
  type Variation,
  type VariationStudy,
  variationStudy,
} from './vary/index.ts';

/** What a variation study is asked for; scatters that are left out are the common ones. */
export interface VariationTest extends Partial<Variation> {
  readonly parts: number;
  readonly bouncingParts: number;
  readonly seed: number;
}

export interface Printing {
  readonly lattice: Lattice;
  readonly surface: UnionSurface;
  readonly union: Union;
  readonly circumferenceMm: number;
  readonly densityGMm3: number;
  readonly targets: readonly Target[];
  /** Drops one part; null at depths without a drop. */
  readonly dropPart: ((part: BouncingPart) => Bounced) | null;
}

/** Parts that are weighed exactly as well: a second each. */
const EXACT_PARTS = 2;

export type VariationFigures = ReturnType<typeof figuresOf>;

/** How parts differ as they print: spreads of mass, balance, size and bounce, and how many meet the targets. */
export function variationOf(printing: Printing, test: VariationTest, course: Pick<Course<string>, 'reach' | 'isCancelled'>) {
  const { lattice, surface, union, circumferenceMm, densityGMm3, dropPart } = printing;
  const { parts, bouncingParts, seed, ...given } = test;
  const variation = { ...COMMON_VARIATION, ...given };
  const bands = printing.targets.map(({ quantity, min, max }) => ({ quantity: SHORT_NAMES[quantity] ?? quantity, min, max }));
  const outcome = variationStudy(
    {
      nominal: { graph: lattice.graph, outerNodes: lattice.nodesPerLayer, circumferenceMm, densityGMm3 },
      ...{ surface, union, symmetry: lattice.symmetry, variation, seed, parts, bouncingParts, bands },
      exactParts: Math.min(EXACT_PARTS, parts),
      bounce: bouncingParts > 0 ? (dropPart ?? undefined) : undefined,
    },
    course,
  );
  if (outcome.kind === 'refused')
    return { variation: null, warnings: [], error: { code: outcome.code, message: outcome.message } satisfies EngineError };
  return { variation: figuresOf(outcome, variation, given), warnings: [...outcome.warnings] as Warning[], error: null };
}

function figuresOf({ kind: _, warnings: __, targets, ...study }: VariationStudy, variation: Variation, given: Partial<Variation>) {
  const assumed = (Object.keys(COMMON_VARIATION) as (keyof Variation)[]).filter((name) => given[name] === undefined);
  return {
    ...study,
    targets: targets.map(({ quantity, min = null, max = null, within }) => ({ quantity, min, max, within })),
    variation: { ...variation, biasByAngle: variation.biasByAngle.map((row) => ({ ...row })) },
    assumptions: assumed.map((name) => `${name}: ${VARIATION_SOURCES[name]}`),
  };
}
