import type { SearchProblem } from './problem.ts';
import type { SearchEnd } from './search.ts';

/** How a quantity answers to a free number at the best point found before those round it. */
export interface Sensitivity {
  readonly quantity: string;
  readonly path: string;
  /** Change of the quantity for one unit of the number. */
  readonly perUnit: number;
  /** The same in per cent for one per cent. */
  readonly pctPerPct: number;
}

/** By differences to the points round the best one; what has no value there is left out. */
export function sensitivities({ numbers, targets, limits, objective }: SearchProblem, { centre, around }: SearchEnd): Sensitivity[] {
  const quantities = [...new Set([...targets, ...limits].map(({ quantity }) => quantity).concat(objective))];
  return around.flatMap(({ number, point, outcome }) =>
    quantities.flatMap((quantity) => {
      const [before, after] = [centre?.outcome?.values[quantity] ?? null, outcome?.values[quantity] ?? null];
      if (before === null || after === null) return [];
      const at = centre!.point.numbers[number];
      const perUnit = (after - before) / (point.numbers[number] - at);
      return [{ quantity, path: numbers[number].path, perUnit, pctPerPct: before === 0 ? 0 : (perUnit * at) / before }];
    }),
  );
}
