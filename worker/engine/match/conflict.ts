import { solveLeastSquares } from '../least-squares/index.ts';
import type { Target } from '../targets.ts';
import { localModel } from './local-model.ts';
import { bandOf, missOf } from './misses.ts';
import type { SearchProblem } from './problem.ts';
import type { SearchEnd } from './search.ts';
import { spaceOf } from './space.ts';

/** A target that the free numbers cannot reach within their bounds, by the slopes at the best point. */
export interface OutOfReach {
  readonly kind: 'out-of-reach';
  readonly quantity: string;
  /** The nearest that it comes to. */
  readonly nearest: number;
  /** Free numbers that are then at a bound. */
  readonly atBounds: readonly string[];
}

/** Two targets of which each can be met, but not both. */
export interface Conflict {
  readonly kind: 'conflict';
  readonly quantities: readonly [string, string];
  /** What the second comes to where the first and all others are met, and the other way round. */
  readonly secondWhereFirstIsMet: number;
  readonly firstWhereSecondIsMet: number;
}

/** A miss that is no more than the slopes' own error. */
const MET = 1e-3;
const HEAVY = 1000;

/**
 * Which targets cannot be met, by the slopes round the best point, within their bounds: one that cannot be met alone, else
 * the one missed most where all are met as well as they can be, and the one that gives way for it at the least cost to the rest. null: the model sees none (the search may have ended for lack of points).
 */
export function conflictOf(problem: SearchProblem, end: SearchEnd): OutOfReach | Conflict | null {
  const wanted = [...problem.targets, ...problem.limits];
  const best = end.centre?.outcome;
  if (!best || end.around.length === 0 || end.reason === 'met') return null;
  const model = modelOf(problem, end);
  const alone = wanted.map((target) => ({ target, at: model.best([target]) }));
  const far = alone
    .map(({ target, at }) => ({ target, at, miss: missOf(target, at.values[target.quantity]) }))
    .sort((a, b) => b.miss - a.miss)[0];
  if (far && far.miss > MET) {
    return { kind: 'out-of-reach', quantity: far.target.quantity, nearest: far.at.values[far.target.quantity], atBounds: far.at.atBounds };
  }
  const together = model.best(wanted);
  const missed = wanted
    .map((target) => ({ target, miss: missOf(target, together.values[target.quantity]) }))
    .sort((a, b) => b.miss - a.miss);
  if (missed[0].miss <= MET) return null;
  const first = missed[0].target;
  const without = (left: Target) => {
    const rest = wanted.filter((each) => each !== left);
    const { values } = model.best(rest);
    return rest.reduce((sum, each) => sum + missOf(each, values[each.quantity]), 0);
  };
  const others = wanted.filter(({ quantity }) => quantity !== first.quantity).map((target) => ({ target, miss: without(target) }));
  // Of those that would do as well as each other, the one that was named first.
  const least = Math.min(...others.map(({ miss }) => miss));
  const second = others.find(({ miss }) => miss <= least + MET)?.target;
  if (!second) return null;
  /** What is given up for all the others. */
  const left = (target: Target) => model.best(wanted, (each) => (each === target ? 1 : HEAVY)).values[target.quantity];
  return {
    kind: 'conflict',
    quantities: [first.quantity, second.quantity],
    secondWhereFirstIsMet: left(second),
    firstWhereSecondIsMet: left(first),
  };
}

function modelOf(problem: SearchProblem, { centre, around }: SearchEnd) {
  const space = spaceOf(problem.numbers);
  const from = space.placeOf(centre!.point.numbers);
  const { valueAt } = localModel(problem, centre!, around);
  /** Values where these targets are met as well as they can be. */
  const best = (targets: readonly Target[], weight: (target: Target) => number = () => 1) => {
    const residuals = (u: Float64Array) =>
      Float64Array.from(targets, (each) => {
        const { low, high, half } = bandOf(each);
        const value = valueAt(u, each.quantity);
        return ((Math.max(0, value - high) - Math.max(0, low - value)) / half) * weight(each);
      });
    const { x } = solveLeastSquares(residuals, {
      start: from,
      lower: space.lower,
      upper: space.upper,
      mostPoints: 2000,
      differenceStep: () => 1e-4,
    });
    const atBounds = problem.numbers.filter((_, j) => x[j] - space.lower[j] < 1e-6 || space.upper[j] - x[j] < 1e-6).map(({ path }) => path);
    return { values: Object.fromEntries(targets.map(({ quantity }) => [quantity, valueAt(x, quantity)])), atBounds };
  };
  return { best };
}
