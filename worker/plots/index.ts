export { type Energies, energyPlot, type Flight, heightPlot } from './bounce.ts';
export type { Page, PlotElement } from './frame.ts';
export { type LayerAreas, layerAreaPlot } from './layers.ts';
export { type Compared, comparedPlot, type Residual, residualPlot, type Spread, spreadPlot } from './measured.ts';
export { type Option, paretoPlot } from './pareto.ts';
export { forceDeflectionPlot, type Press } from './press.ts';
