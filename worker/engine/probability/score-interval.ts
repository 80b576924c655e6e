/** Two-sided 95 % of the normal distribution. */
export const Z95 = 1.959963984540054;

/** A share found among samples, with the 95 % interval of the share behind it. */
export interface Share {
  readonly hits: number;
  readonly count: number;
  readonly share: number;
  readonly from: number;
  readonly to: number;
}

/**
 * The score interval of a share: (p + z^2/2n +- z sqrt(p (1 - p)/n + z^2/4n^2)) / (1 + z^2/n). Honest at 0 and at 1, where the plain interval has
 * no width. Of no samples nothing is known: 0 to 1.
 */
export function shareOf(hits: number, count: number): Share {
  if (count === 0) return { hits, count, share: Number.NaN, from: 0, to: 1 };
  const p = hits / count;
  const z2 = Z95 * Z95;
  const middle = p + z2 / (2 * count);
  const half = Z95 * Math.sqrt((p * (1 - p)) / count + z2 / (4 * count * count));
  const whole = 1 + z2 / count;
  return { hits, count, share: p, from: hits === 0 ? 0 : (middle - half) / whole, to: hits === count ? 1 : (middle + half) / whole };
}
