import { parseHTML } from 'linkedom';
import { slicesOfGraph } from '../engine/index.ts';
import { energyPlot, forceDeflectionPlot, layerAreaPlot, type Page, type PlotElement } from '../plots/index.ts';
import type { FileMaker } from './makers.ts';

/** A document of its own for each plot. */
export const newPage = (): Page => ({ document: parseHTML('<!doctype html><html><body></body></html>').document });

const asFile = (plot: PlotElement): string => `<?xml version="1.0" encoding="UTF-8"?>\n${plot.outerHTML}\n`;

/** Plots as files. */
export const PLOTTED = {
  'layer-area.svg': ({ marked, evaluation }) => {
    const { layers } = slicesOfGraph(marked, evaluation.buildVolume.layerMm);
    return asFile(layerAreaPlot({ zMm: layers.map(({ zMm }) => zMm), areaMm2: layers.map(({ areaMm2 }) => areaMm2) }, newPage()));
  },
  'force-deflection.svg': ({ result }) => (result?.stiffness ? asFile(forceDeflectionPlot(result.stiffness, newPage())) : null),
  'energy.svg': ({ result }) => (result?.rebound ? asFile(energyPlot(result.rebound.energy, newPage())) : null),
} as const satisfies Record<string, FileMaker>;
