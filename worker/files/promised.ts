import { FILE_KINDS } from '../../openapi/files.ts';
import type { NewFile } from '../../prisma/index.ts';
import { graphJson, type StrutGraph } from '../engine/index.ts';
import { latticeThreeMf } from './threemf.ts';

/** The files that every evaluation has. */
export const graphFile = (graph: StrutGraph): NewFile => ({
  name: 'graph.json',
  mediaType: FILE_KINDS['graph.json'].mediaType,
  content: JSON.stringify(graphJson(graph)),
});
export const latticeFile = (marked: StrutGraph): NewFile => ({
  name: 'lattice.3mf',
  mediaType: FILE_KINDS['lattice.3mf'].mediaType,
  content: latticeThreeMf(marked),
});
