import type { GraphSymmetry } from '../lattice/index.ts';
import { type Distribution, distribution, type Share } from '../probability/index.ts';
import { makeMoments, type Union, type UnionSurface } from '../solid/index.ts';
import { type ExactCheck, exactCheck } from './exact-check.ts';
import { type Band, judge } from './judge.ts';
import { type Nominal, partFigures } from './part-figures.ts';
import { makePrinter, type PrintedPart, printedGraph } from './printed-part.ts';
import { quickWeighing } from './quick-weighing.ts';
import { refuseVariation, type Variation, type VariationRefusal } from './variation.ts';

/** A printed part that is to bounce. */
export interface BouncingPart extends Omit<PrintedPart, 'strutGrowthMm' | 'nodeGrowthMm' | 'scale' | 'upScale'> {
  readonly graph: ReturnType<typeof printedGraph>;
  readonly massG: number;
}
/** What a bounce found, by path in a result (`rebound.reboundHeightMm.mean`); null: that part gave no result. */
export type Bounced = Readonly<Record<string, number>> | null;

export interface StudyInput {
  readonly nominal: Nominal;
  /** About the origin, of the design. */
  readonly surface: UnionSurface;
  readonly union: Union;
  readonly symmetry: GraphSymmetry | null;
  readonly variation: Variation;
  readonly seed: number;
  /** Parts weighed quickly, those of them weighed exactly as well, and those that bounce: each from the first on. */
  readonly parts: number;
  readonly exactParts: number;
  readonly bouncingParts: number;
  readonly bands: readonly Band[];
  /** Drops one part; left out: none bounces. */
  readonly bounce?: (part: BouncingPart) => Bounced;
}

export interface StudyHooks {
  /** Share of the work done, 0 to 1. */
  readonly reach?: (share: number) => void;
  /** Polled between parts; true ends the study early with what there is. */
  readonly isCancelled?: () => boolean;
}

export interface VariationStudy {
  readonly kind: 'study';
  readonly seed: number;
  readonly quantities: Readonly<Record<string, Distribution>>;
  /** Beside each band the share of parts within; null where no part has such a figure, or the band has no limits. */
  readonly targets: readonly (Band & { readonly within: Share | null })[];
  /** Parts that meet every band that could be judged, of those that have all its figures; null without any. */
  readonly all: Share | null;
  readonly check: ExactCheck;
  /** Parts that were dropped and gave no result. */
  readonly failedBounces: number;
  readonly warnings: readonly { readonly code: string; readonly message: string }[];
}

/** Share of the time that the bounces take, for the progress told. */
const BOUNCING = 0.7;
const POLL = 16;

/** Draws parts as printed, weighs thousands, drops tens, and tells how they spread and how many meet the bands. */
export function variationStudy(input: StudyInput, hooks: StudyHooks = {}): VariationStudy | VariationRefusal {
  const { nominal, variation, seed } = input;
  const { graph } = nominal;
  const refusal = refuseVariation(
    variation,
    graph.diameters.reduce((least, d) => Math.min(least, d), Number.POSITIVE_INFINITY),
  );
  if (refusal) return refusal;
  const isCancelled = hooks.isCancelled ?? (() => false);
  const print = makePrinter(graph, variation, seed);
  const weigh = quickWeighing(graph, input.surface, input.union, input.symmetry, isCancelled);
  const values: Record<string, number[]> = {};
  const note = (index: number, figures: Readonly<Record<string, number>>) => {
    for (const [name, value] of Object.entries(figures)) {
      values[name] ??= [];
      values[name][index] = value;
    }
  };
  const weighing = input.bounce ? 1 - BOUNCING : 1;
  const moments = makeMoments();
  for (let k = 0; k < input.parts && !isCancelled(); k++) {
    const part = print(k);
    note(k, partFigures(nominal, part, moments, weigh(part, moments)));
    if (k % POLL === 0) hooks.reach?.((weighing * k) / input.parts / 2);
  }
  const check = exactCheck(
    nominal,
    weigh,
    Array.from({ length: input.exactParts }, (_, k) => print(k)),
    isCancelled,
  );
  hooks.reach?.(weighing);
  let failedBounces = 0;
  for (let k = 0; input.bounce && k < Math.min(input.bouncingParts, input.parts) && !isCancelled(); k++) {
    const part = print(k);
    const { strutGrowthMm: _, nodeGrowthMm: __, scale: ___, upScale: ____, ...factors } = part;
    const found = input.bounce({ ...factors, graph: printedGraph(graph, part), massG: values['massProperties.massG'][k] });
    if (found) note(k, found);
    else failedBounces++;
    hooks.reach?.(weighing + (BOUNCING * (k + 1)) / input.bouncingParts);
  }
  const quantities = distributions(values);
  return {
    kind: 'study',
    seed,
    quantities,
    ...judge(values, input.bands),
    check,
    failedBounces,
    warnings: warningsOf(check, quantities, failedBounces),
  };
}

/** Of every quantity that two parts or more have. */
function distributions(values: Readonly<Record<string, readonly number[]>>): Record<string, Distribution> {
  const found: Record<string, Distribution> = {};
  for (const [name, list] of Object.entries(values)) {
    const present = list.filter((value) => value !== undefined);
    if (present.length > 1) found[name] = distribution(present);
  }
  return found;
}

/** The quick weighing is coarse where its error is more than this part of the scatter it is to show. */
const COARSE = 0.3;

function warningsOf({ errors, parts }: ExactCheck, quantities: Readonly<Record<string, Distribution>>, failed: number) {
  const warnings: { code: string; message: string }[] = [];
  for (const [name, { largest }] of Object.entries(errors)) {
    const scatter = quantities[name]?.deviation ?? 0;
    if (parts > 0 && largest > COARSE * scatter && scatter > 0)
      warnings.push({
        code: 'quick-weighing-coarse',
        message: `${name}: first-order weighing is off by up to ${largest.toPrecision(2)}, against a scatter of ${scatter.toPrecision(2)}.`,
      });
  }
  if (failed > 0)
    warnings.push({ code: 'parts-without-bounce', message: `${failed} of the dropped parts gave no result and are left out.` });
  return warnings;
}
