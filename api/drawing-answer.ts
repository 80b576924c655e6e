import type { PlotElement } from '../worker/plots/index.ts';
import { svgFile } from '../worker/plots/on-server.ts';

/** A plot as an answer: shown by a browser, and saved under a name. */
export const drawingAnswer = (plot: PlotElement, filename: string) => ({
  body: svgFile(plot),
  headers: { 'content-type': 'image/svg+xml', 'content-disposition': `inline; filename="${filename}"` },
});
