import { improve } from './improve.ts';
import { meetsAll } from './misses.ts';
import type { SearchProblem, Trial } from './problem.ts';
import { bestOfWays, ranked } from './ranking.ts';
import { type Neighbour, round } from './round.ts';
import { type Space, spaceOf } from './space.ts';
import { type Asks, openTrials, type Trials } from './trials.ts';
import { followWays } from './ways.ts';

export interface SearchEnd {
  /** Every point evaluated, in the order it was asked for. */
  readonly trials: readonly Trial[];
  /** The same, solutions first, by the objective; then the others, the nearest first. */
  readonly ranking: readonly Trial[];
  /** The first solution that was found, where the search went on to better ones. */
  readonly first: Trial | null;
  /** The best point before those round it were looked at. */
  readonly centre: Trial | null;
  /** Points round the centre, one for each free number that can be moved. */
  readonly around: readonly Neighbour[];
  /** Why it ended. */
  readonly reason: 'met' | 'converged' | 'budget';
}

/**
 * Looks for points that meet all targets, along every combination of choices; where the objective is to settle, the solutions found are improved then, the best
 * one first; last come the slopes at the best point. Yields the points it wants evaluated, which may be computed side by side, and is sent their outcomes in
 * the same order; a point is never asked for twice. The same outcomes give the same search, so it can be taken up again from what is stored.
 */
export function* search(problem: SearchProblem): Asks<SearchEnd> {
  const space = spaceOf(problem.numbers);
  const trials = openTrials();
  const forSlopes = Math.min(problem.numbers.length, Math.max(0, problem.budget - 1));
  const before = Math.max(1, problem.budget - forSlopes);
  const isThrough = yield* followWays(problem, space, trials, before);
  const solutions = problem.settles ? bestOfWays(problem, trials.all) : [];
  for (const solution of solutions) yield* improved(solution, problem, space, { trials, room: before, forSlopes });
  const centre = ranked(problem, trials.all)[0] ?? null;
  const around = centre ? yield* round(centre, problem, space, { trials, room: problem.budget - trials.all.length }) : [];
  const ranking = ranked(problem, trials.all);
  const isMet = meetsAll(problem, ranking[0]?.outcome ?? null);
  return {
    ...{ trials: trials.all, ranking, centre, around },
    first: solutions.length > 0 ? trials.all.find(({ outcome }) => meetsAll(problem, outcome))! : null,
    reason: isMet ? 'met' : isThrough ? 'converged' : 'budget',
  };
}

interface Room {
  readonly trials: Trials;
  /** Trials that there may be, and those of them that slopes take. */
  readonly room: number;
  readonly forSlopes: number;
}

/** From a solution to better ones: slopes are taken anew until they lead nowhere. */
function* improved(solution: Trial, problem: SearchProblem, space: Space, { trials, room, forSlopes }: Room): Asks<void> {
  for (let [best, before] = [solution, null as Trial | null]; best !== before && room - trials.all.length > forSlopes; ) {
    before = best;
    const run = improve(problem, best, yield* round(best, problem, space, { trials, room: forSlopes }));
    for (let turn = run.next(); ; turn = run.next(trials.outcomeAt(turn.value))) {
      if (turn.done) best = turn.value;
      if (turn.done || trials.all.length >= room) break;
      yield* trials.ask([turn.value]);
    }
  }
}
