import { residualsOf } from './misses.ts';
import type { Point, SearchProblem } from './problem.ts';
import type { Space } from './space.ts';
import type { Asks, Trials } from './trials.ts';
import { wayOf } from './way.ts';

/** Ways that are followed at once; of more the worse half is given up, step by step. */
const KEPT = 2;
/** Rounds that each of them has before: a first point and the leap to where it belongs. */
const FAIR_ROUNDS = 2;

interface Way {
  readonly choices: readonly number[];
  readonly run: ReturnType<typeof wayOf>;
  asked: readonly Point[];
  rounds: number;
  end: 'met' | 'ended' | null;
}

/**
 * Follows every combination of choices, as long as there is room for so many trials: all begin, and after each round the worse half is given up until few are
 * left. Returns whether all that were kept came to their end.
 */
export function* followWays(problem: SearchProblem, space: Space, trials: Trials, room: number): Asks<boolean> {
  let ways = combinations(problem.choices).map((choices) => begin(problem, space, choices));
  for (let live = ways; live.length > 0; live = ways.filter(({ end }) => end === null)) {
    const served = serve(live, trials, room - trials.all.length);
    if (served.length === 0) return false;
    yield* trials.ask(served.flatMap(({ asked }) => asked));
    for (const way of served) advance(way, trials);
    ways = fewer(ways, problem, trials);
  }
  return true;
}

function begin(problem: SearchProblem, space: Space, choices: readonly number[]): Way {
  const run = wayOf(problem, space, choices);
  return { choices, run, asked: run.next().value as readonly Point[], rounds: 0, end: null };
}

function advance(way: Way, trials: Trials): void {
  way.rounds++;
  const turn = way.run.next(way.asked.map(trials.outcomeAt));
  if (turn.done) way.end = turn.value;
  else way.asked = turn.value;
}

/** Ways in their order, as far as there is room for their points. */
function serve(live: readonly Way[], trials: Trials, room: number): Way[] {
  let left = room;
  return live.filter(({ asked }) => {
    const fresh = asked.filter((point) => !trials.has(point)).length;
    if (fresh > left) return false;
    left -= fresh;
    return true;
  });
}

/** The better half of the ways that go on, as long as there are more than a few; those that have ended stay. */
function fewer(ways: readonly Way[], problem: SearchProblem, trials: Trials): Way[] {
  const live = ways.filter(({ end }) => end === null);
  if (live.length <= KEPT || live.some(({ rounds }) => rounds < FAIR_ROUNDS)) return [...ways];
  const cost = new Map(live.map((way) => [way, costOf(way, problem, trials)]));
  const kept = [...live].sort((a, b) => cost.get(a)! - cost.get(b)!).slice(0, Math.max(KEPT, Math.ceil(live.length / 2)));
  return ways.filter((way) => way.end !== null || kept.includes(way));
}

/** Least sum of squared residuals that a way has come to. */
function costOf({ choices }: Way, problem: SearchProblem, trials: Trials): number {
  const own = trials.all.filter(({ point }) => point.choices.join() === choices.join());
  return Math.min(...own.map(({ outcome }) => residualsOf(problem, outcome).reduce((sum, each) => sum + each * each, 0)));
}

/** All combinations of choices, the last running fastest. */
const combinations = (counts: readonly number[]): number[][] =>
  counts.reduce<number[][]>((all, count) => all.flatMap((each) => Array.from({ length: count }, (_, k) => [...each, k])), [[]]);
