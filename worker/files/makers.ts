import type { ResolvedInput } from '../../openapi/evaluation.ts';
import { FILE_DEFAULTS, type FileName, type FileOrder } from '../../openapi/files.ts';
import type { Result } from '../../openapi/result.ts';
import {
  binaryStl,
  cellsDxf,
  cellsSvg,
  flatCells,
  glb,
  graphJson,
  layersCsv,
  type PrintedLattice,
  sectionOf,
  sectionSvg,
  strutsCsv,
} from '../engine/index.ts';
import { BOUNCING } from './bounce.ts';
import { pictureOf } from './pictures.ts';
import { layersOf, PLOTTED } from './plots.ts';
import { reportOf } from './report.ts';
import { closedSurface } from './surface.ts';
import { latticeThreeMf, surfaceThreeMf } from './threemf.ts';

/** What a file is made of. */
export interface FileSource extends PrintedLattice {
  readonly evaluation: ResolvedInput;
  /** null: an evaluation that has none, or the offline command before it. */
  readonly result: Result | null;
  readonly order: FileOrder;
  /** Called every few milliseconds; what it throws ends the file. */
  readonly poll?: () => void;
}

type Content = string | Uint8Array;
/** null: the evaluation lacks the numbers that the file is of. */
export type FileMaker = (source: FileSource) => Content | null | Promise<Content | null>;

const surfaceOf = ({ marked, order, poll }: FileSource) => closedSurface(marked, order.chordMm ?? FILE_DEFAULTS.chordMm, poll);
/** Outlines are drawn within this, mm. */
const OUTLINE_CHORD_MM = 0.02;

/** One maker for each file that can be had. */
export const FILE_MAKERS: Readonly<Record<FileName, FileMaker>> = {
  'graph.json': ({ lattice }) => JSON.stringify(graphJson(lattice.graph)),
  'lattice.3mf': ({ marked }) => latticeThreeMf(marked),
  'lattice-mesh.3mf': async (source) => surfaceThreeMf(await surfaceOf(source), source.poll),
  'lattice.stl': async (source) => binaryStl(await surfaceOf(source), 'strut lattice'),
  'lattice.glb': async (source) => glb(await surfaceOf(source), source.marked, 'strutwright', source.poll),
  'struts.csv': ({ marked }) => strutsCsv(marked),
  'layers.csv': (source) => layersCsv(layersOf(source)),
  'section.svg': async ({ marked, evaluation, order, poll }) => {
    const zMm = order.zMm ?? FILE_DEFAULTS.zMm;
    const loops = sectionOf(await closedSurface(marked, OUTLINE_CHORD_MM, poll), zMm);
    return sectionSvg(loops, zMm, evaluation.parameterSet.carrier.outsideDiameterMm / 2);
  },
  'cells.svg': ({ lattice }) => cellsSvg(flatCells(lattice)),
  'cells.dxf': ({ lattice }) => cellsDxf(flatCells(lattice)),
  'picture.png': pictureOf,
  ...BOUNCING,
  ...PLOTTED,
  'report.html': reportOf,
};
