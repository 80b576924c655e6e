import { parseHTML } from 'linkedom';
import type { Page, PlotElement } from './frame.ts';

/** A document of its own for each plot. */
export const newPage = (): Page => ({ document: parseHTML('<!doctype html><html><body></body></html>').document });

/** A plot as a file of its own, media type image/svg+xml: on white, so that it reads on whatever it is put. */
export const svgFile = (plot: PlotElement): string =>
  `<?xml version="1.0" encoding="UTF-8"?>\n${plot.outerHTML.replace('background:none', 'background:white')}\n`;
