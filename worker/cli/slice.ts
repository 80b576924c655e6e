import { between } from '../../openapi/common.ts';
import { heightOfGraph, slicesOfGraph } from '../engine/index.ts';
import { BadInput, type Command, numberOption } from './command.ts';
import { readGraphFile } from './graph-file.ts';

const layerThickness = between(0.001, 1000);
const MOST_LAYERS = 100_000;

/** Horizontal sections of the union of a graph's struts and node spheres, and its volume, as one JSON object. */
export const sliceCommand: Command = {
  name: 'slice',
  usage: 'graph.json --layerMm 0.1',
  summary: 'Area and outline of the solid that a graph stands for at the middle of each layer, and its volume, as JSON.',
  options: { layerMm: { type: 'string' } },
  positionals: ['graph.json'],
  run: async ([path], values) => {
    const layerMm = numberOption(values, 'layerMm', layerThickness);
    const graph = await readGraphFile(path);
    const least = heightOfGraph(graph) / MOST_LAYERS;
    if (layerMm < least) throw new BadInput([`--layerMm is ${layerMm}; allowed for this solid: at least ${least} (${MOST_LAYERS} layers)`]);
    return JSON.stringify(slicesOfGraph(graph, layerMm));
  },
};
