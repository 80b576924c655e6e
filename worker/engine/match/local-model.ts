import type { SearchProblem, Trial } from './problem.ts';
import type { Neighbour } from './round.ts';
import { spaceOf } from './space.ts';

/**
 * What the quantities come to near a point: each linear in the solver's space, by its logarithm where it is positive, as powers of the parameters go. Slopes
 * by differences to the points round it, corrected by every further point (Broyden 1965).
 */
export interface LocalModel {
  /** NaN for a quantity without a value at the centre. */
  valueAt(u: ArrayLike<number>, quantity: string): number;
  /** The line itself, from where the model stands; null without a value there. */
  lineOf(quantity: string): Line | null;
  /** Takes a further point in; what it misses it by is put right along the way there. */
  learn(trial: Trial): void;
  /** The same slopes from another point on. */
  moveTo(trial: Trial): void;
}

export interface Line {
  /** Value where the model stands, or its logarithm. */
  at: number;
  /** Change of that with each of the solver's numbers. */
  readonly slope: Float64Array;
  readonly byLogarithm: boolean;
}

export function localModel(
  { numbers, targets, limits, objective }: Pick<SearchProblem, 'numbers' | 'targets' | 'limits' | 'objective'>,
  centre: Trial,
  around: readonly Neighbour[],
): LocalModel {
  const space = spaceOf(numbers);
  let from = space.placeOf(centre.point.numbers);
  const quantities = new Set([...targets, ...limits].map(({ quantity }) => quantity).concat(objective));
  const lines = new Map([...quantities].flatMap((quantity) => lineThrough(quantity) ?? []));
  const along = (u: ArrayLike<number>, { at, slope }: Line) => slope.reduce((sum, each, j) => sum + each * (u[j] - from[j]), at);
  return {
    valueAt: (u, quantity) => {
      const line = lines.get(quantity);
      if (!line) return Number.NaN;
      return line.byLogarithm ? Math.exp(along(u, line)) : along(u, line);
    },
    lineOf: (quantity) => lines.get(quantity) ?? null,
    learn: (trial) => {
      const u = space.placeOf(trial.point.numbers);
      const length = u.reduce((sum, each, j) => sum + (each - from[j]) ** 2, 0);
      for (const [quantity, line] of lines) {
        const value = modelled(trial, quantity, line.byLogarithm);
        if (value === null || length === 0) continue;
        const miss = (value - along(u, line)) / length;
        line.slope.forEach((_, j) => {
          line.slope[j] += miss * (u[j] - from[j]);
        });
      }
    },
    moveTo: (trial) => {
      from = space.placeOf(trial.point.numbers);
      for (const [quantity, line] of lines) line.at = modelled(trial, quantity, line.byLogarithm) ?? Number.NaN;
    },
  };

  function lineThrough(quantity: string): [string, Line][] | null {
    const points = [centre, ...around];
    const byLogarithm = points.every(({ outcome }) => (outcome?.values[quantity] ?? 1) > 0);
    const at = modelled(centre, quantity, byLogarithm);
    if (at === null) return null;
    const slope = new Float64Array(numbers.length);
    for (const trial of around) {
      const value = modelled(trial, quantity, byLogarithm);
      const moved = space.placeOf(trial.point.numbers)[trial.number] - from[trial.number];
      if (value !== null) slope[trial.number] = (value - at) / moved;
    }
    return [[quantity, { at, slope, byLogarithm }]];
  }
}

/** null: without a value, or without a logarithm. */
function modelled({ outcome }: Trial, quantity: string, byLogarithm: boolean): number | null {
  const value = outcome?.values[quantity] ?? null;
  if (value === null || !byLogarithm) return value;
  return value > 0 ? Math.log(value) : null;
}
