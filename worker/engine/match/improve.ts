import { bestStep } from './best-step.ts';
import { localModel } from './local-model.ts';
import { meetsAll, worthOf } from './misses.ts';
import { keyOf, type Outcome, type Point, type SearchProblem, type Trial } from './problem.ts';
import type { Neighbour } from './round.ts';
import { spaceOf } from './space.ts';

/** How far a first step may go in every logarithm; the farthest and the shortest worth an evaluation. */
const FIRST_REACH = 0.1;
const MOST_REACH = 0.4;
const LEAST_REACH = 0.004;
/** Steps that begin where targets were missed, to meet them again, before it is tried closer by. */
const MOST_CORRECTIONS = 3;
/** A gain that no print shows, as a share of the objective. */
const LITTLE = 1e-3;

/**
 * From a solution to better ones: steps along the slopes to where the objective is best and all targets are still met, in a reach that grows with success
 * and shrinks without (sequential linear programming with a trust region; Griffith and Stewart 1961), and back to the targets from where they bent away.
 * Yields the points it wants one by one, is sent their outcomes; ends with the best where no step within reach is worth an evaluation.
 */
export function* improve(problem: SearchProblem, solution: Trial, around: readonly Neighbour[]): Generator<Point, Trial, Outcome | null> {
  const space = spaceOf(problem.numbers);
  const model = localModel(problem, solution, around);
  let [best, centre, corrections] = [solution, solution, 0];
  for (let reach = FIRST_REACH; reach >= LEAST_REACH; ) {
    const at = space.snap(
      bestStep(problem, model, space.placeOf(centre.point.numbers), { reach, aim: centre === best ? 'objective' : 'targets' }),
    );
    const worth = worthOf(problem, best.outcome!);
    const trial: Trial = { point: { ...best.point, numbers: space.numbersAt(at) }, outcome: null };
    const promised = worth - signed(problem, model.valueAt(at, problem.objective));
    const isWorthIt = promised > LITTLE * Math.abs(worth) && keyOf(trial.point) !== keyOf(centre.point);
    if (!isWorthIt && centre === best) break;
    const outcome = isWorthIt ? yield trial.point : null;
    const found = { ...trial, outcome };
    model.learn(found);
    if (meetsAll(problem, outcome) && worthOf(problem, outcome!) < worth) {
      [best, centre, corrections, reach] = [found, found, 0, Math.min(MOST_REACH, 2 * reach)];
    } else if (outcome && !meetsAll(problem, outcome) && corrections < MOST_CORRECTIONS) {
      [centre, corrections] = [found, corrections + 1];
    } else {
      [centre, corrections, reach] = [best, 0, reach / 3];
    }
    model.moveTo(centre);
  }
  return best;
}

const signed = ({ mostFirst }: SearchProblem, value: number): number => (mostFirst ? -value : value);
