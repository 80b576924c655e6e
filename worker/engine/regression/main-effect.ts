import type { Factor } from './axes.ts';

/** Rows that are alike in one factor, and what came of them. */
export interface Level {
  /** Least and greatest value of the factor; of choices both are the place. */
  readonly from: number;
  readonly to: number;
  readonly count: number;
  readonly mean: number;
  /** Of the values; null of a single one. */
  readonly deviation: number | null;
}

export interface MainEffect {
  readonly levels: readonly Level[];
  /**
   * Part of the values' variance that the factor by itself explains, 0 to 1: between levels over all (correlation ratio, Pearson 1905), less what as many
   * levels explain by chance (Kelley 1935). null: the values do not differ.
   */
  readonly share: number | null;
}

/** More different numbers than these are put in as many intervals. */
const MOST_LEVELS = 20;
/** Fewer rows in an interval tell little of a mean. */
const ROWS_A_LEVEL = 10;

/** Mean and spread of the values by the levels of one factor: each choice, each number, or intervals of numbers with as many rows in each. */
export function mainEffect(factor: Factor, settings: readonly number[], values: ArrayLike<number>): MainEffect {
  const order = Array.from(settings.keys()).sort((a, b) => settings[a] - settings[b]);
  const groups = groupsOf(factor, order, settings);
  const levels = groups.map((rows) => ({
    ...{ from: settings[rows[0]], to: settings[rows[rows.length - 1]], count: rows.length },
    ...spread(rows.map((i) => values[i])),
  }));
  const n = settings.length;
  const all = spread(order.map((i) => values[i]));
  const total = (all.deviation ?? 0) ** 2 * (n - 1);
  const between = levels.reduce((sum, { count, mean }) => sum + count * (mean - all.mean) ** 2, 0);
  const chance = n > levels.length ? (n - 1) / (n - levels.length) : Number.NaN;
  const share = total > 0 && Number.isFinite(chance) ? Math.max(0, 1 - (1 - between / total) * chance) : null;
  return { levels, share };
}

/** Rows of each level, ascending. */
function groupsOf({ choices }: Factor, order: readonly number[], settings: readonly number[]): number[][] {
  const same: number[][] = [];
  for (const [k, i] of order.entries()) {
    if (k > 0 && settings[order[k - 1]] === settings[i]) same[same.length - 1].push(i);
    else same.push([i]);
  }
  const most = Math.max(1, Math.min(MOST_LEVELS, Math.floor(order.length / ROWS_A_LEVEL)));
  if (choices || same.length <= most) return same;
  const groups: number[][] = [];
  let seen = 0;
  for (const each of same) {
    // equal numbers stay together
    const place = Math.floor((seen * most) / order.length);
    groups[place] = [...(groups[place] ?? []), ...each];
    seen += each.length;
  }
  return groups.filter((each) => each !== undefined);
}

function spread(values: readonly number[]): { mean: number; deviation: number | null } {
  const n = values.length;
  const mean = values[0] + values.reduce((sum, each) => sum + (each - values[0]), 0) / n;
  if (n < 2) return { mean, deviation: null };
  return { mean, deviation: Math.sqrt(values.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (n - 1)) };
}
