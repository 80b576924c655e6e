import * as Plot from '@observablehq/plot';
import { drawn, type Page, type PlotElement, SERIES } from './frame.ts';

/** Area of each layer from the bottom upwards. */
export interface LayerAreas {
  readonly zMm: ArrayLike<number>;
  readonly areaMm2: ArrayLike<number>;
}

/** Most points of a line: more than pixels across are of no use. */
const MOST = 800;

/** Area of a part's layers over its height; of many layers the mean of several. */
export function layerAreaPlot({ zMm, areaMm2 }: LayerAreas, page: Page = {}): PlotElement {
  const every = Math.max(1, Math.ceil(zMm.length / MOST));
  const points = Array.from({ length: Math.floor(zMm.length / every) }, (_, k) => {
    let sum = 0;
    for (let i = k * every; i < (k + 1) * every; i++) sum += areaMm2[i];
    return { zMm: (zMm[k * every] + zMm[(k + 1) * every - 1]) / 2, areaMm2: sum / every };
  });
  return drawn('Area of the layers', page, {
    x: { label: 'height, mm' },
    y: { label: 'area, mm²', zero: true },
    marks: [
      Plot.areaY(points, { x: 'zMm', y: 'areaMm2', fill: SERIES[0], fillOpacity: 0.25 }),
      Plot.lineY(points, { x: 'zMm', y: 'areaMm2', stroke: SERIES[0], strokeWidth: 1.5 }),
      Plot.ruleY([0], { strokeOpacity: 0.5 }),
    ],
  });
}
