import { FILE_DEFAULTS } from '../../openapi/files.ts';
import type { Result } from '../../openapi/result.ts';
import {
  type BounceFrames,
  bounceFrames,
  byMark,
  byRole,
  byScale,
  type Colouring,
  contactSheet,
  type Lattice,
  picture,
  type StrutGraph,
} from '../engine/index.ts';
import type { FileMaker, FileSource } from './makers.ts';

const SIZE_PX = 800;
const FRAME_PX = 400;
/** Shown of a bounce: at the touch, on the way down, deepest, on the way up, and as it leaves. */
const SHOWN = 6;

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

const filmed = new WeakMap<Result, BounceFrames | null>();

/** Frames of the bounce of an evaluation in its first orientation, computed once for all that shows them; null: it does not bounce. */
export function framesOf({ evaluation, result }: FileSource): BounceFrames | null {
  if (!result?.rebound) return null;
  if (!filmed.has(result)) {
    const film = bounceFrames(evaluation);
    filmed.set(result, film.kind === 'frames' ? film : null);
  }
  return filmed.get(result)!;
}

/** Largest strain of each strut over all frames. */
const largest = ({ strainPct }: BounceFrames): Float32Array =>
  strainPct.reduce((most, each) => most.map((value, s) => Math.max(value, each[s])), new Float32Array(strainPct[0].length));

const byStrain = (graph: StrutGraph, values: Float32Array, mostPct: number): Colouring => byScale(graph, values, mostPct, '% strain');

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
      const strain = largest(frames);
      return {
        graph: frames.graph,
        colouring: byStrain(
          frames.graph,
          strain,
          strain.reduce((most, each) => Math.max(most, each)),
        ),
      };
    }
  }
}

/** A picture as it is ordered. */
export function pictureOf(source: FileSource): Uint8Array | null {
  const { view = FILE_DEFAULTS.view, cut = FILE_DEFAULTS.cut } = source.order;
  const coloured = colouringOf(source);
  return coloured && picture(coloured.graph, { view, cut, sizePx: SIZE_PX, colouring: coloured.colouring });
}

/** Pictures of a bounce from the front, evenly over time, z up from the floor. */
export function bounceSheet(source: FileSource): Uint8Array | null {
  const frames = framesOf(source);
  if (!frames) return null;
  const mostPct = largest(frames).reduce((most, each) => Math.max(most, each));
  const shown = Array.from({ length: SHOWN }, (_, k) => Math.round((k * (frames.xyz.length - 1)) / (SHOWN - 1)));
  const graphs = shown.map((k) => ({ ...frames.graph, xyz: Float64Array.from(frames.xyz[k]) }));
  const colourings = shown.map((k, i) => byStrain(graphs[i], frames.strainPct[k], mostPct));
  return contactSheet(graphs, { columns: 3, sizePx: FRAME_PX, colourings });
}

const rounded = (values: ArrayLike<number>, step: number): number[] =>
  Array.from(values, (x) => Number((Math.round(x / step) * step).toFixed(3)));

/** The frames as JSON: nodes in the order of graph.json, 3 numbers each, mm from the floor; struts' largest fibre strains. */
function bounceJson(source: FileSource): string | null {
  const frames = framesOf(source);
  if (!frames) return null;
  return JSON.stringify({
    orientation: frames.orientation,
    outcome: frames.outcome,
    contactTimeMs: frames.contactTimeMs,
    timesMs: rounded(frames.timesMs, 1e-3),
    nodesMm: frames.xyz.map((xyz) => rounded(xyz, 0.01)),
    strainPct: frames.strainPct.map((strain) => rounded(strain, 0.01)),
  });
}

/** Pictures as files, and the bounce that some are of. */
export const PICTURED = { 'picture.png': pictureOf, 'bounce.png': bounceSheet, 'bounce.json': bounceJson } as const satisfies Record<
  string,
  FileMaker
>;
