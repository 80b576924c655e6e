import { improve } from './improve.ts';
import { meetsAll, missOf, residualsOf, worthOf } from './misses.ts';
import { keyOf, type Outcome, type Point, type SearchProblem, type Trial } from './problem.ts';
import { type Space, spaceOf } from './space.ts';
import { wayOf } from './way.ts';

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
  readonly around: readonly (Trial & { readonly number: number })[];
  /** Why it ended. */
  readonly reason: 'met' | 'converged' | 'budget';
}

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
 * Looks for points that meet all targets. Every combination of choices is a way; all begin, and after each round the worse half is given up until few are
 * left. Where the objective is to settle, the solutions found are improved then, the best one first. Yields the points it wants evaluated, which may be computed side by side, and is sent their outcomes in the same order; a point is never asked for
 * twice. The same outcomes give the same search, so it can be taken up again from what is stored.
 */
export function* search(problem: SearchProblem): Generator<readonly Point[], SearchEnd, readonly (Outcome | null)[]> {
  const space = spaceOf(problem.numbers);
  const trials: Trial[] = [];
  const known = new Map<string, Outcome | null>();
  const around = Math.min(problem.numbers.length, Math.max(0, problem.budget - 1));
  const forWays = Math.max(1, problem.budget - around);

  function* ask(points: readonly Point[]): Generator<readonly Point[], void, readonly (Outcome | null)[]> {
    const fresh = [...new Map(points.map((point) => [keyOf(point), point])).values()].filter((point) => !known.has(keyOf(point)));
    if (fresh.length === 0) return;
    const outcomes = yield fresh;
    fresh.forEach((point, k) => {
      known.set(keyOf(point), outcomes[k]);
      trials.push({ point, outcome: outcomes[k] });
    });
  }

  let ways = combinations(problem.choices).map((choices) => begin(problem, space, choices));
  let short = false;
  for (let live = ways; live.length > 0; live = ways.filter(({ end }) => end === null)) {
    const room = forWays - trials.length;
    const served = serve(live, known, room);
    if (served.length === 0) {
      short = true;
      break;
    }
    yield* ask(served.flatMap(({ asked }) => asked));
    for (const way of served) advance(way, known);
    ways = fewer(ways, problem, trials);
  }
  const solutions = problem.settles ? bestOfWays(problem, trials) : [];
  for (const solution of solutions) yield* improved(solution);
  const centre = ranked(problem, trials)[0] ?? null;
  const found = centre ? yield* round(centre, problem.budget - trials.length) : [];
  const ranking = ranked(problem, trials);
  return {
    ...{
      trials,
      ranking,
      centre,
      around: found,
      first: solutions.length > 0 ? trials.find(({ outcome }) => meetsAll(problem, outcome))! : null,
    },
    reason: meetsAll(problem, ranking[0]?.outcome ?? null) ? 'met' : short ? 'budget' : 'converged',
  };

  /** The point moved along each number by itself, as far as there is room. */
  function* round({ point }: Trial, room: number) {
    const neighbours = neighboursOf(point, space, problem);
    yield* ask(neighbours.slice(0, room).map((each) => each.point));
    return neighbours
      .filter((each) => known.has(keyOf(each.point)))
      .map(({ point: at, number }) => ({ point: at, number, outcome: known.get(keyOf(at)) ?? null }));
  }

  /** Better solutions of the same way, with what is left beside the slopes at the end: slopes are taken anew until they lead nowhere. */
  function* improved(solution: Trial) {
    for (let [best, before] = [solution, null as Trial | null]; best !== before && forWays - trials.length > around; ) {
      before = best;
      const run = improve(problem, best, yield* round(best, around));
      for (let turn = run.next(); ; turn = run.next(known.get(keyOf(turn.value)) ?? null)) {
        if (turn.done) best = turn.value;
        if (turn.done || trials.length >= forWays) break;
        yield* ask([turn.value]);
      }
    }
  }
}

/** The best solution of each combination of choices, the best one first. */
const bestOfWays = (problem: SearchProblem, trials: readonly Trial[]): Trial[] => {
  const solutions = ranked(problem, trials).filter(({ outcome }) => meetsAll(problem, outcome));
  return solutions.filter(({ point }, k) => solutions.findIndex((each) => each.point.choices.join() === point.choices.join()) === k);
};

function begin(problem: SearchProblem, space: Space, choices: readonly number[]): Way {
  const run = wayOf(problem, space, choices);
  return { choices, run, asked: run.next().value as readonly Point[], rounds: 0, end: null };
}

function advance(way: Way, known: ReadonlyMap<string, Outcome | null>): void {
  way.rounds++;
  const turn = way.run.next(way.asked.map((point) => known.get(keyOf(point)) ?? null));
  if (turn.done) way.end = turn.value;
  else way.asked = turn.value;
}

/** Ways in their order, as far as there is room for their points. */
function serve(live: readonly Way[], known: ReadonlyMap<string, Outcome | null>, room: number): Way[] {
  let left = room;
  return live.filter(({ asked }) => {
    const fresh = asked.filter((point) => !known.has(keyOf(point))).length;
    if (fresh > left) return false;
    left -= fresh;
    return true;
  });
}

/** The better half of the ways that go on, as long as there are more than a few; those that have ended stay. */
function fewer(ways: readonly Way[], problem: SearchProblem, trials: readonly Trial[]): Way[] {
  const live = ways.filter(({ end }) => end === null);
  if (live.length <= KEPT || live.some(({ rounds }) => rounds < FAIR_ROUNDS)) return [...ways];
  const cost = new Map(live.map((way) => [way, costOf(way, problem, trials)]));
  const kept = [...live].sort((a, b) => cost.get(a)! - cost.get(b)!).slice(0, Math.max(KEPT, Math.ceil(live.length / 2)));
  return ways.filter((way) => way.end !== null || kept.includes(way));
}

/** Least sum of squared residuals that a way has come to. */
function costOf({ choices }: Way, problem: SearchProblem, trials: readonly Trial[]): number {
  const own = trials.filter(({ point }) => point.choices.join() === choices.join());
  return Math.min(...own.map(({ outcome }) => residualsOf(problem, outcome).reduce((sum, each) => sum + each * each, 0)));
}

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

/** The point moved along each number by itself, to the side where there is more room. */
function neighboursOf(point: Point, space: Space, { numbers }: SearchProblem): { point: Point; number: number }[] {
  const u = space.placeOf(point.numbers);
  return numbers.flatMap((_, j) => {
    const side = space.upper[j] - u[j] >= u[j] - space.lower[j] ? 1 : -1;
    const moved = space.numbersAt(
      u.map((each, k) =>
        k === j ? Math.min(space.upper[k], Math.max(space.lower[k], each + side * space.differenceStep(each, k))) : each,
      ),
    );
    return moved[j] === point.numbers[j] ? [] : [{ point: { ...point, numbers: moved }, number: j }];
  });
}

/** All combinations of choices, the last running fastest. */
const combinations = (counts: readonly number[]): number[][] =>
  counts.reduce<number[][]>((all, count) => all.flatMap((each) => Array.from({ length: count }, (_, k) => [...each, k])), [[]]);
