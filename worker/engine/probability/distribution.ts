/** What samples tell of a quantity; every figure with its sampling error, one standard deviation. */
export interface Distribution {
  readonly count: number;
  readonly mean: number;
  readonly meanError: number;
  readonly deviation: number;
  readonly deviationError: number;
  readonly quantiles: { readonly share: number; readonly value: number; readonly error: number }[];
  /** Even bins from the least to the greatest sample. */
  readonly histogram: { readonly from: number; readonly to: number; readonly counts: number[] };
}

const SHARES = [0.025, 0.25, 0.5, 0.75, 0.975];
const MOST_BINS = 40;

/**
 * Of two samples or more. Error of the mean s / sqrt(n); of the deviation from the fourth moment m4: sqrt((m4 - s^4) / n) / (2 s), which needs no
 * normality (Cramer 1946, 27.4). A quantile is interpolated between order statistics (n - 1) p; its error is half the distance of the order
 * statistics that lie sqrt(n p (1 - p)) places below and above (binomial; the places end at the extremes).
 */
export function distribution(values: ArrayLike<number>): Distribution {
  const sorted = Float64Array.from(values).sort();
  const n = sorted.length;
  // From the least on, so that equal values have no deviation.
  const mean = sorted[0] + sorted.reduce((sum, x) => sum + (x - sorted[0]), 0) / n;
  let [square, fourth] = [0, 0];
  for (const x of sorted) {
    const d = (x - mean) ** 2;
    square += d;
    fourth += d * d;
  }
  const variance = square / (n - 1);
  const deviation = Math.sqrt(variance);
  const spread = Math.max(0, fourth / n - (square / n) ** 2);
  return {
    count: n,
    mean,
    meanError: deviation / Math.sqrt(n),
    deviation,
    deviationError: deviation > 0 ? Math.sqrt(spread / n) / (2 * deviation) : 0,
    quantiles: SHARES.map((share) => {
      const beside = Math.sqrt(n * share * (1 - share));
      const at = (n - 1) * share;
      return { share, value: ordered(sorted, at), error: (ordered(sorted, at + beside) - ordered(sorted, at - beside)) / 2 };
    }),
    histogram: histogramOf(sorted),
  };
}

/** Order statistic at a place that need not be whole. */
function ordered(sorted: Float64Array, place: number): number {
  const at = Math.min(sorted.length - 1, Math.max(0, place));
  const low = Math.floor(at);
  const high = Math.min(sorted.length - 1, low + 1);
  return sorted[low] + (at - low) * (sorted[high] - sorted[low]);
}

/** As many bins as the square root of the count, at most 40; one when all samples are equal. */
function histogramOf(sorted: Float64Array): Distribution['histogram'] {
  const [from, to] = [sorted[0], sorted[sorted.length - 1]];
  const bins = from === to ? 1 : Math.min(MOST_BINS, Math.ceil(Math.sqrt(sorted.length)));
  const counts = new Array<number>(bins).fill(0);
  for (const x of sorted) counts[Math.min(bins - 1, Math.floor((bins * (x - from)) / (to - from || 1)))]++;
  return { from, to, counts };
}
