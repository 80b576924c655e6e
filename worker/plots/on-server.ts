import { parseHTML } from 'linkedom';
import type { Page, PlotElement } from './frame.ts';

/** A document of its own for each plot, of the usual size or another. */
export const newPage = (size: Omit<Page, 'document'> = {}): Page => ({
  ...size,
  document: parseHTML('<!doctype html><html><body></body></html>').document,
});

/** A plot as a file of its own, media type image/svg+xml: black on white, so that it reads on whatever it is put. */
export function svgFile(plot: PlotElement): string {
  const shown = plot.outerHTML.replace('background:none', 'background:white').replace('color:currentColor', 'color:black');
  return `<?xml version="1.0" encoding="UTF-8"?>\n${shown}\n`;
}
