import { betaShare } from './incomplete-beta.ts';
import { rootOf } from './root.ts';

/**
 * Bounds of the share behind `hits` of `count` independent trials, each holding with so much confidence (0 to 1) by itself: exact by the binomial
 * distribution (Clopper and Pearson 1934). Of no trials: 0 and 1.
 */
export function exactBounds(hits: number, count: number, confidence: number): { lower: number; upper: number } {
  const above = 1 - confidence;
  // P(at least `hits` of `count`) at share x is I_x(hits, count - hits + 1), which grows with x.
  const lower = hits === 0 ? 0 : rootOf((x) => betaShare(x, hits, count - hits + 1) - above, { from: 0, step: 0.5 });
  const upper = hits === count ? 1 : rootOf((x) => betaShare(x, hits + 1, count - hits) - confidence, { from: 0, step: 0.5 });
  return { lower: Math.min(1, lower), upper: Math.min(1, upper) };
}

/** Fewest trials of which all hits but `misses` show at least this share with this confidence; null beyond `most`. */
export function trialsFor(
  share: number,
  { misses, confidence, most }: { misses: number; confidence: number; most: number },
): number | null {
  const shows = (count: number) => betaShare(share, count - misses, misses + 1) <= 1 - confidence;
  if (!shows(most)) return null;
  let [few, enough] = [misses, most];
  while (enough - few > 1) {
    const middle = (few + enough) >> 1;
    if (middle > misses && shows(middle)) enough = middle;
    else few = middle;
  }
  return enough;
}
