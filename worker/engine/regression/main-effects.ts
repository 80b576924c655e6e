import type { Factor } from './axes.ts';
import { levelsOf } from './levels.ts';

/** Rows that are alike in one factor, and what came of them. */
export interface Level {
  /** Least and greatest value of the factor; of choices both are the place. */
  readonly from: number;
  readonly to: number;
  readonly count: number;
  readonly mean: number;
  /** Of the values; null of a single one. */
  readonly deviation: number | null;
  /** By how much the level is above the mean of all, what the other factors do by themselves taken off. */
  readonly effect: number;
}

export interface MainEffect {
  readonly levels: readonly Level[];
  /** Part of the values' variance that the factor by itself explains, 0 to 1. null: the values do not differ, or are too few. */
  readonly share: number | null;
}

export interface MainEffects {
  readonly mean: number;
  readonly deviation: number | null;
  readonly factors: readonly MainEffect[];
  /** What no factor explains by itself. */
  readonly rest: number | null;
}

const ROUNDS = 50;
const SETTLED = 1e-9;

/**
 * Analysis of variance by main effects alone: the value as the mean of all plus one number for the level of each factor, fitted by taking the means of what the
 * others leave, round after round (backfitting, Friedman and Stuetzle 1981). Shares are sums of squares over the whole, less what as many levels explain by
 * chance (Kelley 1935). At least one row.
 */
export function mainEffects(factors: readonly Factor[], rows: readonly (readonly number[])[], values: ArrayLike<number>): MainEffects {
  const all = spread(Array.from(values));
  const groups = factors.map((factor, j) =>
    levelsOf(
      factor,
      rows.map((row) => row[j]),
      factors.length,
    ),
  );
  const { effects, left } = backfitted(groups, values, all);
  const square = (all.deviation ?? 0) ** 2 * (rows.length - 1);
  const freedom = rows.length - 1 - groups.reduce((sum, each) => sum + each.length - 1, 0);
  const chance = left.reduce((sum, each) => sum + each * each, 0) / freedom;
  const found = groups.map((of, j): MainEffect => {
    const explained = of.reduce((sum, each, level) => sum + each.length * effects[j][level] ** 2, 0);
    const share = square > 0 && freedom > 0 ? Math.min(1, Math.max(0, (explained - (of.length - 1) * chance) / square)) : null;
    const levels = of.map((each, level) => {
      const settings = [rows[each[0]][j], rows[each[each.length - 1]][j]];
      return {
        ...{ from: settings[0], to: settings[1], count: each.length, effect: effects[j][level] },
        ...spread(each.map((i) => values[i])),
      };
    });
    return { levels, share };
  });
  const rest = found.reduce<number | null>((sum, { share }) => (sum === null || share === null ? null : Math.max(0, sum - share)), 1);
  return { ...all, factors: found, rest: square > 0 ? rest : null };
}

function backfitted(groups: readonly (readonly number[][])[], values: ArrayLike<number>, all: ReturnType<typeof spread>) {
  const effects = groups.map((of) => new Float64Array(of.length));
  const left = Float64Array.from(values, (each) => each - all.mean);
  for (let round = 0; round < ROUNDS; round++) {
    let largest = 0;
    for (const [j, of] of groups.entries())
      for (const [level, each] of of.entries()) {
        const more = each.reduce((sum, i) => sum + left[i], 0) / each.length;
        effects[j][level] += more;
        for (const i of each) left[i] -= more;
        largest = Math.max(largest, Math.abs(more));
      }
    if (largest <= SETTLED * (all.deviation ?? 0)) break;
  }
  return { effects, left };
}

function spread(values: readonly number[]): { mean: number; deviation: number | null } {
  const n = values.length;
  const mean = values[0] + values.reduce((sum, each) => sum + (each - values[0]), 0) / n;
  if (n < 2) return { mean, deviation: null };
  return { mean, deviation: Math.sqrt(values.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (n - 1)) };
}
