import type { LayerProfile } from '../solid/index.ts';
import type { Arrangements } from './arrange.ts';
import { buildTime } from './build-time.ts';
import { buildCost } from './cost.ts';
import type { Poll } from './lowest-first.ts';
import type { BuildVolume, Money, PrintFault, PrintMaterial } from './types.ts';

/** One number of equal parts in one build. */
export interface CostPoint {
  parts: number;
  heightMm: number;
  totalHours: number;
  totalPerPart: Money;
}

export type CostCurveOutcome =
  | { readonly kind: 'done'; readonly curve: CostPoint[] }
  | { readonly kind: 'fault'; readonly fault: PrintFault };

/** Most points of a curve. */
const MOST_POINTS = 40;
/** Most jumps of a thinned curve that are shown from both sides. */
const MOST_JUMPS = 12;

/**
 * Cost of one part when 1, 2, ... of them share a build, up to a full one, each number in its lowest arrangement. The curve is a saw: it falls
 * as parts share a height, and jumps where one more part needs a higher build. Beyond 40 parts it is thinned to 40 points at most, the
 * largest jumps among them. Fault `currency-mismatch`, as in buildCost. The curve is empty when not even one part fits.
 * `poll` is called for every point, and may throw.
 */
export function costCurve(
  part: { readonly profile: LayerProfile; readonly massG: number },
  arrangements: Arrangements,
  material: PrintMaterial,
  volume: BuildVolume,
  poll?: Poll,
): CostCurveOutcome {
  const curve: CostPoint[] = [];
  for (const parts of thinned(arrangements)) {
    poll?.();
    const build = buildTime(part.profile, arrangements.take(parts), material, volume);
    const outcome = buildCost(build, part.massG, material, volume);
    if (outcome.kind === 'fault') return outcome;
    const { heightMm, totalHours } = build;
    if (outcome.cost) curve.push({ parts, heightMm, totalHours, totalPerPart: outcome.cost.totalPerPart });
  }
  return { kind: 'done', curve };
}

/** 1, 2, ... most; where that is too many, the numbers on both sides of the largest jumps in height, and others evenly spaced by their logarithm. */
function thinned({ most, topOf }: Arrangements): number[] {
  const all = Array.from({ length: most }, (_, i) => i + 1);
  if (most <= MOST_POINTS) return all;
  const jumps = all.slice(0, -1).map((parts) => ({ parts, rise: topOf(parts + 1) / topOf(parts) }));
  const largest = jumps.sort((a, b) => b.rise - a.rise || a.parts - b.parts).slice(0, MOST_JUMPS);
  const between = MOST_POINTS - 2 * MOST_JUMPS;
  const even = Array.from({ length: between }, (_, i) => Math.round(most ** (i / (between - 1))));
  return [...new Set([...even, ...largest.flatMap(({ parts }) => [parts, parts + 1])])].sort((a, b) => a - b);
}
