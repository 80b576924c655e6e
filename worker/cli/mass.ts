import { densityGCm3 as density } from '../../openapi/material.ts';
import { massOfGraph } from '../engine/index.ts';
import { type Command, numberOption } from './command.ts';
import { readGraphFile } from './graph-file.ts';

/** Mass properties of the union of a graph's struts and node spheres, about the centre of mass, as one JSON object. */
export const massCommand: Command = {
  name: 'mass',
  usage: 'graph.json --densityGCm3 1.1',
  summary: 'Volume, mass, centre of mass and inertia of the solid that a graph stands for, as JSON.',
  options: { densityGCm3: { type: 'string' } },
  positionals: ['graph.json'],
  run: async ([path], values) => {
    const densityGCm3 = numberOption(values, 'densityGCm3', density);
    return JSON.stringify(massOfGraph(await readGraphFile(path), densityGCm3), null, 2);
  },
};
