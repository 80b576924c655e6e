import { densityGCm3 as density } from '../../openapi/material.ts';
import { shown } from '../../openapi/shown.ts';
import { type GraphFault, massOfGraph, readGraph } from '../engine/index.ts';
import { BadInput, type Command, numberOption, readJson } from './command.ts';

/** Mass properties of the union of a graph's struts and node spheres, about the centre of mass, as one JSON object. */
export const massCommand: Command = {
  name: 'mass',
  usage: 'graph.json --densityGCm3 1.1',
  summary: 'Volume, mass, centre of mass and inertia of the solid that a graph stands for, as JSON.',
  options: { densityGCm3: { type: 'string' } },
  positionals: ['graph.json'],
  run: async ([path], values) => {
    const densityGCm3 = numberOption(values, 'densityGCm3', density);
    const read = readGraph(await readJson(path));
    if (read.kind === 'fault') throw new BadInput([faultLine(path, read.fault)]);
    return JSON.stringify(massOfGraph(read.graph, densityGCm3), null, 2);
  },
};

const faultLine = (path: string, { pointer, value, detail }: GraphFault): string =>
  `${path} ${pointer || '(the whole)'} is ${JSON.stringify(shown(value)) ?? 'missing'}; ${detail}`;
