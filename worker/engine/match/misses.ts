import type { Target } from '../targets.ts';
import type { Outcome, SearchProblem } from './problem.ts';

/** Half the width of a band without width, as a share of its value. */
const NARROWEST = 0.005;
/** Scale of a one-sided limit, as a share of it. */
const ONE_SIDED = 0.05;
/** Share of a band's half within which there is next to nothing left to gain. */
const CALM = 0.5;
const PULL = 0.02;

/** What is aimed at and how far from it the band's edge is; a one-sided band is aimed at a little inside it. */
export function bandOf({ min, target, max }: Target): { aim: number; half: number; low: number; high: number } {
  if (min === undefined && max === undefined) {
    const half = Math.abs(target ?? 0) * NARROWEST || NARROWEST;
    return { aim: target!, half, low: target! - half, high: target! + half };
  }
  const [low, high] = [min ?? Number.NEGATIVE_INFINITY, max ?? Number.POSITIVE_INFINITY];
  if (min !== undefined && max !== undefined) {
    const aim = target ?? (min + max) / 2;
    return { aim, half: Math.max((max - min) / 2, Math.abs(aim) * 1e-6), low, high };
  }
  const edge = (min ?? max)!;
  const half = Math.abs(edge) * ONE_SIDED || ONE_SIDED;
  return { aim: min === undefined ? edge - half : edge + half, half, low, high };
}

/** Distance outside the band as a share of its aim; 0 inside, infinite without a value. */
export function missOf(target: Target, value: number | null | undefined): number {
  if (value === null || value === undefined) return Number.POSITIVE_INFINITY;
  const { aim, low, high } = bandOf(target);
  return Math.max(0, low - value, value - high) / Math.abs(aim || 1);
}

/** Infinite without a value; else 1 in size at the band's edge, next to nothing within half of it, growing outside: so no target is polished at the cost of another. */
function residualOf(target: Target & { weight?: number }, value: number | null | undefined): number {
  if (value === null || value === undefined) return Number.POSITIVE_INFINITY;
  const { aim, half, low, high } = bandOf(target);
  const weight = Math.sqrt(target.weight ?? 1);
  // quantities go with powers of parameters, so what is positive is compared by logarithms
  const off = (from: number) => (value > 0 && from > 0 && aim > 0 ? Math.log(value / from) * aim : value - from) / half;
  const above = Number.isFinite(high) ? Math.max(0, off(high) + 1 - CALM) : 0;
  const below = Number.isFinite(low) ? Math.max(0, 1 - CALM - off(low)) : 0;
  const pull = Number.isFinite(low) && Number.isFinite(high) ? PULL * off(aim) : 0;
  return weight * ((above - below) / (1 - CALM) + pull);
}

/** Residuals of all targets and hard limits. */
export const residualsOf = ({ targets, limits }: Pick<SearchProblem, 'targets' | 'limits'>, outcome: Outcome | null): Float64Array =>
  Float64Array.from([...targets, ...limits], (each) => residualOf(each, outcome?.values[each.quantity]));

/** Whether a point is a solution. */
export const meetsAll = ({ targets, limits, printable }: SearchProblem, outcome: Outcome | null): boolean =>
  outcome !== null &&
  (!printable || outcome.printable) &&
  [...targets, ...limits].every((each) => missOf(each, outcome.values[each.quantity]) === 0);

/** What a solution is ranked by, the least first; infinite without a value. */
export function worthOf({ objective, mostFirst }: Pick<SearchProblem, 'objective' | 'mostFirst'>, { values }: Outcome): number {
  const value = values[objective] ?? null;
  if (value === null) return Number.POSITIVE_INFINITY;
  return mostFirst ? -value : value;
}
