import { boundedLeastSquares } from '../least-squares/index.ts';
import { meetsAll, residualsOf } from './misses.ts';
import type { Outcome, Point, SearchProblem } from './problem.ts';
import { scaledStart } from './scaling.ts';
import type { Space } from './space.ts';

/** Changes below this share are no news. */
const TOLERANCE = 1e-4;
/** Rounds that may bring nothing. */
const PATIENCE = 6;
/** Shortest leap tried, as a share of the whole. */
const LEAST_LEAP = 0.25;

/**
 * One combination of choices, followed to the end: a first point, a leap to where powers of slender struts put the targets, then bounded least squares with
 * secants. Yields the points it wants, is sent their outcomes.
 */
export function* wayOf(
  problem: SearchProblem,
  space: Space,
  choices: readonly number[],
): Generator<readonly Point[], 'met' | 'ended', readonly (Outcome | null)[]> {
  const cost = (outcome: Outcome | null) => residualsOf(problem, outcome).reduce((sum, each) => sum + each * each, 0);
  const pointAt = (u: Float64Array): Point => ({ choices, numbers: space.numbersAt(u) });
  const start = space.snap(space.start);
  const [first] = yield [pointAt(start)];
  if (meetsAll(problem, first)) return 'met';
  if (problem.numbers.length === 0) return 'ended';
  const from = first ? yield* leapFrom(start, first) : start;

  const solver = boundedLeastSquares({
    ...{ start: from, lower: space.lower, upper: space.upper, snap: space.snap, differenceStep: space.differenceStep },
    ...{ jacobian: 'secant', tolerance: TOLERANCE, mostPoints: problem.budget },
  });
  const costs: number[] = [];
  let turn = solver.next();
  while (!turn.done) {
    const outcomes = yield turn.value.map(pointAt);
    if (outcomes.some((each) => meetsAll(problem, each))) return 'met';
    costs.push(Math.min(...outcomes.map(cost)));
    if (isSettled(costs)) return 'ended';
    turn = solver.next(outcomes.map((each) => residualsOf(problem, each)));
  }
  return 'ended';

  /** The leap's end, or the first place on the way back from it that is better than the start. */
  function* leapFrom(at: Float64Array, outcome: Outcome): Generator<readonly Point[], Float64Array, readonly (Outcome | null)[]> {
    const leap = scaledStart(problem, space, at, outcome);
    for (let share = 1; share >= LEAST_LEAP; share /= 2) {
      const place = space.snap(at.map((each, j) => each + share * (leap[j] - each)));
      const [there] = yield [pointAt(place)];
      if (cost(there) < cost(outcome)) return place;
    }
    return at;
  }
}

/** The sum of squares falls no further: not by a fiftieth over the last rounds. */
const isSettled = (costs: readonly number[]): boolean =>
  costs.length > PATIENCE && Math.min(...costs) > 0.98 * Math.min(...costs.slice(0, -PATIENCE));
