import { studentQuantile } from './student.ts';

/** A sample that is further from the mean than chance explains. */
export interface OutlierTest {
  readonly index: number;
  /** Distance from the mean over the deviation of what is left. */
  readonly statistic: number;
  readonly critical: number;
}

const FEWEST = 3;
/** Rosner's test of several at once holds its level from here on; below, only one is looked for, which is the test of Grubbs. */
const FEWEST_OF_SEVERAL = 15;
const LARGEST_SHARE = 0.1;
/** Steps of the last digit given: what is no further off may be rounding, which makes readings equal where they are not. */
const STEPS = 3;

/** Largest |x - mean| / s of n normal samples in `level` of all cases (Grubbs 1969; Rosner 1983, eq. 2.5). */
export function criticalDeviation(n: number, level: number): number {
  const t = studentQuantile(1 - level / (2 * n), n - 2);
  return ((n - 1) * t) / Math.sqrt((n - 2 + t * t) * n);
}

/**
 * Outliers among three samples or more at a level of 5 %, two-sided, in order: the generalised extreme studentised deviate of Rosner (1983) for up
 * to a tenth of the samples, from 15 on; the test of Grubbs (1969) for one below that. Nothing is left out: they are only named.
 */
export function outliersOf(values: readonly number[], level = 0.05): OutlierTest[] {
  if (values.length < FEWEST) return [];
  const most = values.length < FEWEST_OF_SEVERAL ? 1 : Math.max(1, Math.floor(LARGEST_SHARE * values.length));
  const least = STEPS * lastDigitOf(values);
  const left = values.map((value, index) => ({ value, index }));
  const tested: OutlierTest[] = [];
  let outlying = 0;
  while (tested.length < most && left.length >= FEWEST) {
    const n = left.length;
    const mean = left.reduce((sum, { value }) => sum + value, 0) / n;
    const deviation = Math.sqrt(left.reduce((sum, { value }) => sum + (value - mean) ** 2, 0) / (n - 1));
    left.sort((a, b) => Math.abs(b.value - mean) - Math.abs(a.value - mean));
    const [farthest] = left;
    if (deviation === 0) break;
    const statistic = Math.abs(farthest.value - mean) / deviation;
    const critical = criticalDeviation(n, level);
    tested.push({ index: farthest.index, statistic, critical });
    if (statistic > critical && Math.abs(farthest.value - mean) > least) outlying = tested.length;
    left.shift();
  }
  return tested.slice(0, outlying).sort((a, b) => a.index - b.index);
}

/** One step of the last decimal place that any of the values has. */
function lastDigitOf(values: readonly number[]): number {
  const places = values.map((value) => /\.(\d+)$/.exec(value.toFixed(9).replace(/\.?0+$/, ''))?.[1].length ?? 0);
  return 10 ** -Math.max(...places);
}
