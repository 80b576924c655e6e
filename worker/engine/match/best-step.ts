import { type Coefficients, solve } from 'yalps';
import type { LocalModel } from './local-model.ts';
import { bandOf } from './misses.ts';
import type { SearchProblem } from './problem.ts';
import { spaceOf } from './space.ts';

/** Share of a band's half that a step keeps from its edges, so that what the slopes leave out does not push it over. */
const MARGIN = 0.05;
/** A miss by half a band costs as much more than all that can be gained or moved within reach. */
const HEAVY = 1000;

/** What a step is to bring: the best objective while all targets are met, or the targets back with the least of moves. */
export type Aim = 'objective' | 'targets';

/**
 * The best place within reach of `from` by the model: a linear programme in the solver's space. Where no place meets all targets, they are missed as little
 * as can be. `from` where the objective has no value.
 */
export function bestStep(
  problem: SearchProblem,
  model: LocalModel,
  from: Float64Array,
  { reach, aim }: { reach: number; aim: Aim },
): Float64Array {
  const { lower, upper } = spaceOf(problem.numbers);
  const objective = model.lineOf(problem.objective);
  if (!objective) return from;
  const costs = objective.slope.map((each) => (problem.mostFirst ? -each : each));
  const most = reach * (aim === 'objective' ? costs.reduce((sum, each) => sum + Math.abs(each), 0) : costs.length) || 1;

  const rows = bandRows(problem, model);
  const constraints = rows.map(({ name, min, max }): [string, { min?: number; max?: number }] => [name, { min, max }]);
  const variables = rows.flatMap(({ name }) =>
    [1, -1].map((way): [string, Coefficients] => [`${name}${way}`, { cost: HEAVY, [name]: way }]),
  );
  problem.numbers.forEach((_, j) => {
    // up and down by themselves, as the solver wants nothing negative
    for (const [way, room] of [
      [1, upper[j] - from[j]],
      [-1, from[j] - lower[j]],
    ] as const) {
      const name = `${j}${way}`;
      const slopes = rows.map((row) => [row.name, way * row.slope[j]] as const);
      constraints.push([name, { max: Math.min(reach, room) }]);
      variables.push([name, Object.fromEntries([['cost', (aim === 'objective' ? way * costs[j] : 1) / most], [name, 1], ...slopes])]);
    }
  });
  const found = solve({ direction: 'minimize', objective: 'cost', constraints, variables });
  if (found.status !== 'optimal') return from;
  const moved = new Map(found.variables);
  return from.map((each, j) => each + (moved.get(`${j}1`) ?? 0) - (moved.get(`${j}-1`) ?? 0));
}

/** Of each target and limit that has a value: how far its band less margins is from where the model stands, and its slopes, in halves of the band. */
function bandRows({ targets, limits }: SearchProblem, model: LocalModel) {
  return [...targets, ...limits].flatMap((target, k) => {
    const line = model.lineOf(target.quantity);
    if (!line) return [];
    const { low, high, half } = bandOf(target);
    const edge = (value: number) => (line.byLogarithm ? Math.log(Math.max(0, value)) : value);
    const unit = line.byLogarithm ? half / Math.exp(line.at) : half;
    const [min, max] = [low + MARGIN * half, high - MARGIN * half].map((each) => (edge(each) - line.at) / unit);
    const within = { ...(Number.isFinite(min) && { min }), ...(Number.isFinite(max) && { max }) };
    return [{ name: `t${k}`, slope: line.slope.map((each) => each / unit), ...within }];
  });
}
