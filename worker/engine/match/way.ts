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
  const begun = yield* begin();
  if (!begun) return 'ended';
  const { start, first } = begun;
  if (meetsAll(problem, first)) return 'met';
  if (problem.numbers.length === 0) return 'ended';
  const from = yield* leapFrom(start, first);

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

  /** The start, or where that has no outcome the nearest to the targets of a few places about the bounds. */
  function* begin(): Generator<readonly Point[], { start: Float64Array; first: Outcome } | null, readonly (Outcome | null)[]> {
    const [{ start }, share] = [space, (by: number) => space.lower.map((low, j) => low + by * (space.upper[j] - low))];
    const [first] = yield [pointAt(space.snap(start))];
    if (first) return { start: space.snap(start), first };
    const places = [share(0.5), share(0.15), share(0.85)].map((each) => space.snap(each));
    const outcomes = yield places.map(pointAt);
    const found = places.map((place, k) => ({ start: place, first: outcomes[k] })).filter(({ first: each }) => each !== null);
    return (found.sort((a, b) => cost(a.first) - cost(b.first))[0] as { start: Float64Array; first: Outcome } | undefined) ?? null;
  }

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
