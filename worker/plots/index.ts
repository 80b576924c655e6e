export { type Energies, energyPlot, type Flight, heightPlot } from './bounce.ts';
export { type Effects, effectsPlot, levelName } from './effects.ts';
export type { Page, PlotElement } from './frame.ts';
export { type LayerAreas, layerAreaPlot } from './layers.ts';
export { type Compared, comparedPlot, type Residual, residualPlot, type Spread, spreadPlot } from './measured.ts';
export { type Front, frontPlot, type Option, type ParetoAxes, paretoPlot } from './pareto.ts';
export { forceDeflectionPlot, type Press } from './press.ts';
