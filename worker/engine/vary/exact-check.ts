import { halfDifference, integrateUnion, makeMoments, unionSurface } from '../solid/index.ts';
import { FIGURES, type Figure, type Nominal, partFigures } from './part-figures.ts';
import { type PrintedPart, printedGraph } from './printed-part.ts';
import { type QuickWeighing, stretch } from './quick-weighing.ts';

/** Quick weighing against the whole union integrated anew, over a few parts. */
export interface ExactCheck {
  readonly parts: number;
  /** Per figure: mean of quick less exact, and the largest distance. */
  readonly errors: Readonly<Record<Figure, { readonly mean: number; readonly largest: number }>>;
}

/** Weighs parts both ways. Takes a second for each part of two thousand struts; stops early when cancelled. */
export function exactCheck(nominal: Nominal, weigh: QuickWeighing, parts: readonly PrintedPart[], isCancelled: () => boolean): ExactCheck {
  const errors = Object.fromEntries(FIGURES.map((name) => [name, { mean: 0, largest: 0 }])) as Record<
    Figure,
    { mean: number; largest: number }
  >;
  const moments = makeMoments();
  let done = 0;
  for (const part of parts) {
    if (isCancelled()) break;
    const quick = partFigures(nominal, part, moments, weigh(part, moments));
    const exact = exactFigures(nominal, part, isCancelled);
    if (isCancelled()) break;
    done++;
    for (const name of FIGURES) {
      const error = quick[name] - exact[name];
      errors[name].mean += error;
      errors[name].largest = Math.max(errors[name].largest, Math.abs(error));
    }
  }
  for (const name of FIGURES) errors[name].mean /= Math.max(1, done);
  return { parts: done, errors };
}

/** Figures of a part from the union of its own struts. Cancelled it ends early, and what it returns is of no use. */
export function exactFigures(nominal: Nominal, part: PrintedPart, isCancelled: () => boolean = () => false): Record<Figure, number> {
  const graph = printedGraph(nominal.graph, { ...part, scale: 1, upScale: 1 });
  const surface = unionSurface(graph);
  const union = integrateUnion(graph, surface, null, isCancelled);
  const difference = halfDifference(graph, surface, union, [0, 0, 1]);
  return partFigures(nominal, part, union.moments, difference * stretch(union.moments, part));
}
