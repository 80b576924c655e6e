import * as Plot from '@observablehq/plot';
import { drawn, KEY_PX, key, nothing, type Page, type PlotElement, QUIET, SERIES, stacked } from './frame.ts';

/** A point of a comparison; `best`: nothing is better in everything that is wanted. */
export interface Option {
  readonly x: number;
  readonly y: number;
  readonly best: boolean;
  readonly name?: string;
}

type Wanted = 'least' | 'most';
/** Names of two quantities with their units, and which way each is wanted. */
export interface ParetoAxes {
  readonly x: string;
  readonly y: string;
  readonly wanted?: { readonly x: Wanted; readonly y: Wanted };
}

/** More marks than these say nothing more, and a picture of them grows heavy. */
const MOST_MARKS = 3000;
const KEY = 'filled: nothing beats it; ring: beaten';

/**
 * Two quantities of many evaluations against each other: those that nothing beats as filled diamonds, joined by the edge of what was reached, the rest as pale
 * rings, one where many fall on one spot. `joined` false: the best are so in more than these two, so that no edge joins them.
 */
export function paretoPlot(options: readonly Option[], axes: ParetoAxes, page: Page = {}, { joined = true } = {}): PlotElement {
  const { x, y, wanted } = axes;
  const best = options.filter((each) => each.best).sort((a, b) => a.x - b.x || a.y - b.y);
  const places = { x: 'x', y: 'y', title: 'name' } as const;
  const named = (axis: string, way?: Wanted) => (way ? `${axis} (${way === 'least' ? 'less' : 'more'} is better)` : axis);
  // At less than x, or at more, the best y reached is that of the point on its left, or on its right.
  const curve = wanted?.x === 'most' ? 'step-before' : 'step-after';
  return drawn(`${y} against ${x}`, page, {
    marginTop: KEY_PX,
    inset: 4,
    x: { label: named(x, wanted?.x) },
    y: { label: named(y, wanted?.y) },
    marks: [
      Plot.dot(thinned(options.filter((each) => !each.best)), { ...places, stroke: QUIET, strokeOpacity: 0.6, r: 3 }),
      ...(joined ? [Plot.line(best, { x: 'x', y: 'y', stroke: SERIES[0], strokeWidth: 1.5, curve })] : []),
      Plot.dot(thinned(best), { ...places, fill: SERIES[0], r: 4, symbol: 'diamond' }),
      ...(options.length === 0 ? [nothing('No evaluation has both numbers yet.')] : []),
      key(KEY),
    ],
  });
}

/** One of all points that fall on one spot, where spots are as coarse as it takes to leave few enough. */
function thinned(options: readonly Option[]): readonly Option[] {
  const [xs, ys] = [options.map(({ x }) => x), options.map(({ y }) => y)].map((values) => {
    const low = values.reduce((least, each) => Math.min(least, each), Number.POSITIVE_INFINITY);
    const high = values.reduce((most, each) => Math.max(most, each), Number.NEGATIVE_INFINITY);
    return values.map((each) => (high > low ? (each - low) / (high - low) : 0));
  });
  for (let spots = 400; ; spots /= 2) {
    const kept = new Map<number, Option>();
    options.forEach((each, k) => {
      const spot = Math.round(spots * xs[k]) * (spots + 1) + Math.round(spots * ys[k]);
      if (!kept.has(spot)) kept.set(spot, each);
    });
    if (kept.size <= MOST_MARKS) return [...kept.values()];
  }
}

/** What is drawn of a front: its quantities by name with unit, and of each evaluation their values. */
export interface Front {
  readonly axes: readonly { readonly name: string; readonly wanted: Wanted }[];
  readonly points: readonly { readonly name: string; readonly best: boolean; readonly values: readonly number[] }[];
}

/** A front: its first quantity across, a plot for each of the others. */
export function frontPlot({ axes, points }: Front, page: Page = {}): PlotElement {
  const [first, ...others] = axes;
  const plots = others.map((other, k) =>
    paretoPlot(
      points.map(({ name, best, values }) => ({ name, best, x: values[0], y: values[k + 1] })),
      { x: first.name, y: other.name, wanted: { x: first.wanted, y: other.wanted } },
      page,
      { joined: axes.length === 2 },
    ),
  );
  return stacked(`What nothing beats in ${axes.map(({ name }) => name).join(' and ')}`, plots, page);
}
