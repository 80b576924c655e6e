import * as Plot from '@observablehq/plot';
import { drawn, KEY_PX, key, type Page, type PlotElement, QUIET, roomFor, SERIES } from './frame.ts';

/** What was predicted of a version, and what its parts came to. */
export interface Compared {
  readonly version: number;
  readonly predicted: number | null;
  readonly measured: number;
  /** Standard deviation over parts; null of a single part. */
  readonly deviation: number | null;
}

const KEY = 'filled: measured, with two deviations; ring: predicted';

/** Measured and predicted over the versions of a design: dots with two standard deviations of the parts, and diamonds. `axis`: the quantity with its unit. */
export function comparedPlot(points: readonly Compared[], axis: string, page: Page = {}): PlotElement {
  const spread = points.flatMap(({ version, measured, deviation }) =>
    deviation === null ? [] : [{ version, low: measured - 2 * deviation, high: measured + 2 * deviation }],
  );
  const place = { x: 'version' } as const;
  return drawn(`${axis}, predicted and measured`, page, {
    marginTop: KEY_PX,
    x: { label: 'version', type: 'point' },
    y: { label: axis },
    color: { domain: ['measured', 'predicted'], range: [SERIES[0], SERIES[1]] },
    marks: [
      Plot.link(spread, { x1: 'version', x2: 'version', y1: 'low', y2: 'high', stroke: SERIES[0], strokeWidth: 2 }),
      Plot.dot(points, { ...place, y: 'measured', fill: SERIES[0], r: 4 }),
      Plot.dot(
        points.filter(({ predicted }) => predicted !== null),
        { ...place, y: 'predicted', stroke: SERIES[1], strokeWidth: 2, r: 5, symbol: 'diamond' },
      ),
      key(KEY),
    ],
  });
}

/** An unknown before and after measurements: deviations of factors are of their logarithms. */
export interface Spread {
  readonly name: string;
  readonly factor: boolean;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly believed: { readonly value: number; readonly deviation: number };
}

/** 95 % of a normal distribution lie within as many deviations. */
const WITHIN = 1.96;

/** Unknowns in deviations of what was believed of them: what was held possible as a broad bar, what is left of it as a narrow one. */
export function spreadPlot(spreads: readonly Spread[], page: Page = {}): PlotElement {
  const rows = spreads.map(({ name, factor, value, low, high, believed }) => {
    const at = (x: number) => (factor ? Math.log(x / believed.value) : x - believed.value) / believed.deviation;
    return { name, value: at(value), low: at(low), high: at(high) };
  });
  return drawn(
    'Unknowns before and after',
    { heightPx: 76 + 36 * rows.length, ...page },
    {
      marginTop: KEY_PX,
      marginLeft: roomFor(rows.map(({ name }) => name)),
      insetLeft: 8,
      insetRight: 8,
      x: { label: 'deviations from what was believed' },
      y: { label: null, domain: rows.map(({ name }) => name) },
      marks: [
        Plot.link(rows, { x1: -WITHIN, x2: WITHIN, y1: 'name', y2: 'name', stroke: QUIET, strokeWidth: 14, strokeOpacity: 0.45 }),
        Plot.link(rows, { x1: 'low', x2: 'high', y1: 'name', y2: 'name', stroke: SERIES[0], strokeWidth: 4 }),
        Plot.dot(rows, { x: 'value', y: 'name', fill: SERIES[0], r: 4.5 }),
        Plot.ruleX([0], { strokeOpacity: 0.4 }),
        key('broad: 95 % of what was believed; narrow: 95 % of what is left'),
      ],
    },
  );
}

/** How far a measurement lies from a prediction, in percent of it. */
export interface Residual {
  readonly quantity: string;
  readonly from: 'as designed' | 'calibrated';
  readonly pct: number;
  /** Kept, and weighed down. */
  readonly outlier: boolean;
}

/** Measurements about what was predicted, as designed and calibrated, a line for each quantity. Outliers are crosses. */
export function residualPlot(residuals: readonly Residual[], page: Page = {}): PlotElement {
  const quantities = [...new Set(residuals.map(({ quantity }) => quantity))];
  const shown = residuals.map((each) => ({ ...each, row: `${each.quantity}, ${each.from}` }));
  const rows = quantities.flatMap((quantity) => [`${quantity}, as designed`, `${quantity}, calibrated`]);
  return drawn(
    'Measurements about predictions',
    { heightPx: 76 + 26 * rows.length, ...page },
    {
      marginTop: KEY_PX,
      marginLeft: roomFor(rows),
      insetLeft: 8,
      insetRight: 8,
      x: { label: 'measured above predicted, %' },
      y: { label: null, domain: rows },
      marks: [
        Plot.ruleX([0], { strokeOpacity: 0.4 }),
        Plot.dot(
          shown.filter(({ from }) => from === 'as designed'),
          { x: 'pct', y: 'row', stroke: QUIET, r: 3.5 },
        ),
        Plot.dot(
          shown.filter(({ from, outlier }) => from === 'calibrated' && !outlier),
          { x: 'pct', y: 'row', fill: SERIES[0], r: 3.5 },
        ),
        Plot.dot(
          shown.filter(({ outlier }) => outlier),
          { x: 'pct', y: 'row', stroke: SERIES[1], strokeWidth: 1.5, r: 4, symbol: 'times' },
        ),
        key('ring: as designed; filled: calibrated; cross: weighed down'),
      ],
    },
  );
}
