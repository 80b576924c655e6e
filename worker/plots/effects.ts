import * as Plot from '@observablehq/plot';
import { drawn, nothing, type Page, type PlotElement, QUIET, SERIES } from './frame.ts';

/** How a quantity follows the parameters of a batch: mean and standard deviation of the evaluations at each level. */
export interface Effects {
  /** null: no evaluation has the quantity. */
  readonly mean: number | null;
  readonly parameters: readonly {
    readonly path: string;
    /** Part of the variance that it explains by itself; null: cannot be told. */
    readonly share: number | null;
    readonly levels: readonly { readonly name: string; readonly mean: number; readonly deviation: number | null }[];
  }[];
}

const ROW_PX = 20;

/** Means at each level of each parameter, with a standard deviation to both sides, about the mean of all. `axis`: the quantity with its unit. */
export function effectsPlot({ mean, parameters }: Effects, axis: string, page: Page = {}): PlotElement {
  const heads = parameters.map(({ path, share }) => (share === null ? path : `${path}: explains ${(100 * share).toFixed(0)} %`));
  const levels = parameters.flatMap((parameter, k) =>
    parameter.levels.map((level) => ({
      ...level,
      row: `${k} ${level.name}`,
      low: level.mean - (level.deviation ?? 0),
      high: level.mean + (level.deviation ?? 0),
    })),
  );
  const rows = parameters.flatMap((parameter, k) => [`${k}`, ...parameter.levels.map(({ name }) => `${k} ${name}`)]);
  return drawn(
    `${axis} by the parameters of a batch`,
    { heightPx: 80 + ROW_PX * rows.length, ...page },
    {
      marginLeft: 150,
      insetLeft: 8,
      insetRight: 8,
      x: { label: `${axis}: mean at each level, and a standard deviation to both sides` },
      y: { label: null, domain: rows, tickSize: 0, tickFormat: (row: string) => row.slice(row.indexOf(' ') + 1 || row.length) },
      marks: [
        mean === null ? nothing('No evaluation has this number yet.') : Plot.ruleX([mean], { strokeDasharray: '4 3', strokeOpacity: 0.6 }),
        Plot.link(levels, { x1: 'low', x2: 'high', y1: 'row', y2: 'row', stroke: QUIET, strokeWidth: 3 }),
        Plot.dot(levels, { x: 'mean', y: 'row', fill: SERIES[0], r: 4, symbol: 'diamond' }),
        Plot.text(heads, {
          frameAnchor: 'left',
          y: (_, k) => `${k}`,
          text: (head: string) => head,
          textAnchor: 'start',
          dx: -140,
          fontWeight: 600,
          fill: 'currentColor',
        }),
      ],
    },
  );
}

/** What a level is called: "3.5", "3.2 to 3.6", "m 3, n 3". */
export function levelName({ from, to, choice }: { from: number | null; to: number | null; choice: unknown }): string {
  if (from !== null && to !== null) return from === to ? short(from) : `${short(from)} to ${short(to)}`;
  if (typeof choice !== 'object' || choice === null) return String(choice);
  return Object.entries(choice)
    .map(([name, value]) => `${name} ${value}`)
    .join(', ');
}

const short = (value: number): string => String(Number(value.toPrecision(3)));
