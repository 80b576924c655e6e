import type { Factor } from './axes.ts';

/** More different numbers than these are put in as many intervals. */
const MOST_LEVELS = 20;
/** Fewer rows in an interval tell little of a mean. */
const ROWS_A_LEVEL = 10;

/** Rows of each level of a factor, ascending: each choice, each number, or intervals with about as many rows in each, fewer where many factors share the rows. */
export function levelsOf({ choices }: Factor, settings: readonly number[], factors: number): number[][] {
  const n = settings.length;
  const order = Array.from(settings.keys()).sort((a, b) => settings[a] - settings[b]);
  const same: number[][] = [];
  for (const [k, i] of order.entries()) {
    if (k > 0 && settings[order[k - 1]] === settings[i]) same[same.length - 1].push(i);
    else same.push([i]);
  }
  const most = Math.max(1, Math.min(MOST_LEVELS, Math.floor(n / ROWS_A_LEVEL), 1 + Math.floor(n / (2 * factors))));
  if (choices || same.length <= most) return same;
  const groups: number[][] = [];
  let seen = 0;
  for (const each of same) {
    // equal numbers stay together
    const place = Math.floor((seen * most) / n);
    groups[place] = [...(groups[place] ?? []), ...each];
    seen += each.length;
  }
  return groups.filter((each) => each !== undefined);
}
