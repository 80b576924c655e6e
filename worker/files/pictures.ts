import { FILE_DEFAULTS } from '../../openapi/files.ts';
import type { Result } from '../../openapi/result.ts';
import { byMark, byRole, type Colouring, type Lattice, picture, type StrutGraph } from '../engine/index.ts';
import { byStrain, framesOf, largestStrains, mostOf } from './bounce.ts';
import type { FileSource } from './makers.ts';

const SIZE_PX = 800;

/** Struts and nodes that checks which do not pass point at; a cell stands for the struts around it. */
export function pointedAt({ printability }: Result, lattice: Lattice): { struts: Set<number>; nodes: Set<number> } {
  const struts = new Set<number>();
  const nodes = new Set<number>();
  const { cellPtr, cellStruts, strutsPerLayer } = lattice;
  for (const { status, where } of printability.checks) {
    if (status !== 'fail' && status !== 'warn') continue;
    for (const { kind, index, layer = 0 } of where) {
      if (kind === 'strut') struts.add(index);
      else if (kind === 'node') nodes.add(index);
      else if (kind === 'cell')
        for (const edge of cellStruts.subarray(cellPtr[index], cellPtr[index + 1])) struts.add(layer * strutsPerLayer + edge);
    }
  }
  return { struts, nodes };
}

function colouringOf(source: FileSource): { graph: StrutGraph; colouring: Colouring } | null {
  const { marked, lattice, result, order } = source;
  switch (order.colourBy ?? FILE_DEFAULTS.colourBy) {
    case 'role':
      return { graph: marked, colouring: byRole(marked) };
    case 'checks': {
      if (!result) return null;
      const { struts, nodes } = pointedAt(result, lattice);
      return { graph: lattice.graph, colouring: byMark(lattice.graph, struts, nodes, 'a check points here') };
    }
    case 'strain': {
      const frames = framesOf(source);
      if (!frames) return null;
      const strain = largestStrains(frames);
      return { graph: frames.graph, colouring: byStrain(frames.graph, strain, mostOf(strain)) };
    }
  }
}

/** A picture as it is ordered. */
export function pictureOf(source: FileSource): Uint8Array | null {
  const { view = FILE_DEFAULTS.view, cut = FILE_DEFAULTS.cut } = source.order;
  const coloured = colouringOf(source);
  return coloured && picture(coloured.graph, { view, cut, sizePx: SIZE_PX, colouring: coloured.colouring, poll: source.poll });
}
