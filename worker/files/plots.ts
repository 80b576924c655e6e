import { slicesOfGraph } from '../engine/index.ts';
import { energyPlot, forceDeflectionPlot, heightPlot, layerAreaPlot, type PlotElement } from '../plots/index.ts';
import { newPage, svgFile } from '../plots/on-server.ts';
import { framesOf } from './bounce.ts';
import type { FileMaker, FileSource } from './makers.ts';

/** The layers as the part is sliced. */
export function layersOf({ marked, lattice, evaluation, poll }: FileSource) {
  const isCancelled = () => {
    poll?.();
    return false;
  };
  // A mark is on one strut alone.
  const symmetry = evaluation.build?.mark === undefined ? lattice.symmetry : null;
  return slicesOfGraph(marked, evaluation.buildVolume.layerMm, { symmetry, isCancelled }).layers;
}

/** Area of the layers. */
export function layerAreaOf(source: FileSource, page = newPage()): PlotElement {
  const layers = layersOf(source);
  return layerAreaPlot({ zMm: layers.map(({ zMm }) => zMm), areaMm2: layers.map(({ areaMm2 }) => areaMm2) }, page);
}

export const forceDeflectionOf = ({ result }: FileSource, page = newPage()): PlotElement | null =>
  result?.stiffness ? forceDeflectionPlot(result.stiffness, page) : null;

export const energyOf = ({ result }: FileSource, page = newPage()): PlotElement | null =>
  result?.rebound ? energyPlot(result.rebound.energy, page) : null;

/** Height over time of the centre of all struts, each weighed by its own volume. */
export function heightOf(source: FileSource, page = newPage()): PlotElement | null {
  const frames = framesOf(source);
  if (!frames) return null;
  const { ends, diameters, strutCount } = frames.graph;
  const weight = Float64Array.from({ length: strutCount }, (_, s) => {
    const [i, j, d, e] = [3 * ends[2 * s], 3 * ends[2 * s + 1], diameters[2 * s], diameters[2 * s + 1]];
    const [p, q] = [frames.graph.xyz.subarray(i, i + 3), frames.graph.xyz.subarray(j, j + 3)];
    return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]) * (d * d + d * e + e * e);
  });
  const whole = weight.reduce((sum, each) => sum + each, 0);
  const heightMm = frames.xyz.map(
    (xyz) => weight.reduce((sum, each, s) => sum + (each * (xyz[3 * ends[2 * s] + 2] + xyz[3 * ends[2 * s + 1] + 2])) / 2, 0) / whole,
  );
  return heightPlot([{ name: frames.orientation, timesMs: frames.timesMs, heightMm }], page);
}

const asFile =
  (plot: (source: FileSource) => PlotElement | null): FileMaker =>
  (source) => {
    const element = plot(source);
    return element && svgFile(element);
  };

/** Plots as files. */
export const PLOTTED = {
  'layer-area.svg': asFile(layerAreaOf),
  'force-deflection.svg': asFile(forceDeflectionOf),
  'height.svg': asFile(heightOf),
  'energy.svg': asFile(energyOf),
} as const satisfies Record<string, FileMaker>;
