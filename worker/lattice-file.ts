import { ENGINE_VERSION } from '../openapi/engine-version.ts';
import { inFirstOctant, type StrutGraph, threeMf } from './engine/index.ts';

/** One lattice as printers' software reads it, media type model/3mf. It tells no date: the same lattice is the same file. */
export const latticeThreeMf = (graph: StrutGraph): Uint8Array =>
  threeMf([{ graph, name: 'lattice', placements: [inFirstOctant(graph)] }], {
    Title: 'Strut lattice',
    Application: `strutwright ${ENGINE_VERSION}`,
  });
