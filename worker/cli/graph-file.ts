import { shown } from '../../openapi/shown.ts';
import { type GraphFault, readGraph, type StrutGraph } from '../engine/index.ts';
import { BadInput, readJson } from './command.ts';

/** The graph in a graph.json. Throws BadInput naming the first thing wrong. */
export async function readGraphFile(path: string): Promise<StrutGraph> {
  const read = readGraph(await readJson(path));
  if (read.kind === 'fault') throw new BadInput([faultLine(path, read.fault)]);
  return read.graph;
}

const faultLine = (path: string, { pointer, value, detail }: GraphFault): string =>
  `${path} ${pointer || '(the whole)'} is ${JSON.stringify(shown(value)) ?? 'missing'}; ${detail}`;
