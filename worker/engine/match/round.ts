import type { Point, SearchProblem, Trial } from './problem.ts';
import type { Space } from './space.ts';
import type { Asks, Trials } from './trials.ts';

/** A trial that differs from another in one free number. */
export type Neighbour = Trial & { readonly number: number };

/** The point moved along each number by itself, as far as there is room for trials. */
export function* round(
  { point }: Trial,
  problem: SearchProblem,
  space: Space,
  { trials, room }: { trials: Trials; room: number },
): Asks<Neighbour[]> {
  const neighbours = neighboursOf(point, space, problem);
  yield* trials.ask(neighbours.slice(0, room).map((each) => each.point));
  return neighbours
    .filter((each) => trials.has(each.point))
    .map(({ point: at, number }) => ({ point: at, number, outcome: trials.outcomeAt(at) }));
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
