export { type ExactCheck, exactFigures } from './exact-check.ts';
export type { Band } from './judge.ts';
export { FIGURES, type Figure, type Nominal, partFigures } from './part-figures.ts';
export { makePrinter, type PrintedPart, printedGraph } from './printed-part.ts';
export { quickWeighing } from './quick-weighing.ts';
export { type Bounced, type BouncingPart, type StudyInput, type VariationStudy, variationStudy } from './study.ts';
export { COMMON_VARIATION, VARIATION_SOURCES, type Variation, type VariationRefusal } from './variation.ts';
