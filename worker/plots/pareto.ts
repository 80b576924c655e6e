import * as Plot from '@observablehq/plot';
import { drawn, type Page, type PlotElement, QUIET, SERIES } from './frame.ts';

/** A point of a comparison; `best`: nothing is better in both. */
export interface Option {
  readonly x: number;
  readonly y: number;
  readonly best: boolean;
  readonly name?: string;
}

/** Two quantities of many evaluations against each other: those that nothing beats in both as a line of full dots, the rest as rings. */
export function paretoPlot(options: readonly Option[], axes: { readonly x: string; readonly y: string }, page: Page = {}): PlotElement {
  const best = options.filter((each) => each.best).sort((a, b) => a.x - b.x);
  const places = { x: 'x', y: 'y', title: 'name' } as const;
  return drawn(`${axes.y} against ${axes.x}`, page, {
    x: { label: axes.x },
    y: { label: axes.y },
    marks: [
      Plot.dot(
        options.filter((each) => !each.best),
        { ...places, stroke: QUIET, r: 3 },
      ),
      Plot.line(best, { x: 'x', y: 'y', stroke: SERIES[0], strokeWidth: 1.5, curve: 'step-after' }),
      Plot.dot(best, { ...places, fill: SERIES[0], r: 4, symbol: 'diamond' }),
    ],
  });
}
