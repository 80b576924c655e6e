import { meetsAll, missOf, worthOf } from './misses.ts';
import type { SearchProblem, Trial } from './problem.ts';

/** Solutions first, by the objective; then the others, the nearest first; last what has no outcome. */
export function ranked<T extends Trial>(problem: SearchProblem, trials: readonly T[]): T[] {
  const { targets, limits } = problem;
  const rank = ({ outcome }: T): readonly [number, number] => {
    if (outcome === null) return [2, 0];
    if (meetsAll(problem, outcome)) return [0, worthOf(problem, outcome)];
    const misses = [...targets, ...limits].map((each) => missOf(each, outcome.values[each.quantity]));
    return [1, Math.max(...misses, 0)];
  };
  const ranks = new Map(trials.map((trial) => [trial, rank(trial)]));
  return [...trials].sort((a, b) => ranks.get(a)![0] - ranks.get(b)![0] || ranks.get(a)![1] - ranks.get(b)![1]);
}

/** The best solution of each combination of choices, the best one first. */
export const bestOfWays = (problem: SearchProblem, trials: readonly Trial[]): Trial[] => {
  const solutions = ranked(problem, trials).filter(({ outcome }) => meetsAll(problem, outcome));
  return solutions.filter(({ point }, k) => solutions.findIndex((each) => each.point.choices.join() === point.choices.join()) === k);
};
