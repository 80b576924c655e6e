import { z } from 'zod';
import { identifier } from './common.ts';
import { evaluationStatus, runError } from './evaluation.ts';

/** Options that a file may take. */
type Option = 'chordMm' | 'zMm' | 'view' | 'colourBy' | 'cut' | 'frame';

interface FileKind {
  readonly mediaType: string;
  readonly options: readonly Option[];
  readonly what: string;
  /** Needs a part of the result that only this depth has. */
  readonly depth?: 'static' | 'full';
}

/** Every file that can be made of an evaluation, by name. */
export const FILE_KINDS = {
  'graph.json': { mediaType: 'application/json', options: [], what: 'nodes and struts' },
  'lattice.3mf': { mediaType: 'model/3mf', options: [], what: 'the lattice as a 3MF beam lattice' },
  'lattice-mesh.3mf': {
    mediaType: 'model/3mf',
    options: ['chordMm'],
    what: 'its surface as triangles, for readers that know no beam lattices',
  },
  'lattice.stl': { mediaType: 'model/stl', options: ['chordMm'], what: 'its surface as binary STL, mm' },
  'lattice.glb': {
    mediaType: 'model/gltf-binary',
    options: ['chordMm'],
    what: 'its surface as glTF: metres, +Y up, a colour for each role',
  },
  'struts.csv': { mediaType: 'text/csv', options: [], what: 'every strut: ends, diameters, length, role' },
  'layers.csv': { mediaType: 'text/csv', options: [], what: 'every layer as it is cut: height, area, outline' },
  'section.svg': { mediaType: 'image/svg+xml', options: ['zMm'], what: 'outline of a level section' },
  'cells.svg': { mediaType: 'image/svg+xml', options: [], what: 'the cells of layer 0, flattened without changing areas' },
  'cells.dxf': {
    mediaType: 'image/vnd.dxf',
    options: [],
    what: 'the same cells as a drawing exchange file, for cutters and drawing programs',
  },
  'picture.png': { mediaType: 'image/png', options: ['view', 'colourBy', 'cut'], what: 'a shaded picture' },
  'bounce.json': {
    mediaType: 'application/json',
    options: [],
    depth: 'full',
    what: 'places of all nodes and strains of all struts while the part bounces, in its first orientation',
  },
  'bounce.png': {
    mediaType: 'image/png',
    options: ['frame'],
    depth: 'full',
    what: 'six pictures of that bounce side by side, or one frame alone: deformed, coloured by strain, with time, height and force',
  },
  'bounce-animation.png': { mediaType: 'image/apng', options: [], depth: 'full', what: 'the same, moving' },
  'layer-area.svg': { mediaType: 'image/svg+xml', options: [], what: 'plot: area of the layers' },
  'force-deflection.svg': { mediaType: 'image/svg+xml', options: [], depth: 'static', what: 'plot: force over deflection' },
  'height.svg': { mediaType: 'image/svg+xml', options: [], depth: 'full', what: 'plot: height over time of that bounce' },
  'energy.svg': { mediaType: 'image/svg+xml', options: [], depth: 'full', what: 'plot: where the energy of the bounce went' },
  'report.html': {
    mediaType: 'text/html; charset=utf-8',
    options: [],
    what: 'a report to read and print: pictures, targets, checks, assumptions, cautions',
  },
} as const satisfies Record<string, FileKind>;
export type FileName = keyof typeof FILE_KINDS;
export const FILE_NAMES = Object.keys(FILE_KINDS) as [FileName, ...FileName[]];

export const VIEWS = ['corner', 'front', 'side', 'top'] as const;
/** Frames of a bounce that can be had one by one. */
export const STILLS = 12;
export const COLOURINGS = ['role', 'checks', 'strain'] as const;

/** Options that are left out. */
export const FILE_DEFAULTS = { chordMm: 0.05, zMm: 0, view: 'corner', colourBy: 'role', cut: false, frame: 0 } as const;

export const fileOrder = z
  .strictObject({
    name: z.enum(FILE_NAMES),
    chordMm: z
      .number()
      .min(0.005)
      .max(2)
      .optional()
      .meta({ description: 'Farthest that triangles may be from the exact surface; default 0.05' }),
    zMm: z.number().min(-1000).max(1000).optional().meta({ description: 'Height of the section; default 0, the middle' }),
    view: z.enum(VIEWS).optional().meta({ description: 'Where it is looked at from; default corner' }),
    colourBy: z.enum(COLOURINGS).optional().meta({
      description:
        'role, the default; checks: what failed checks and warnings point at stands out; strain: the largest in the bounce, of an evaluation of depth full',
    }),
    frame: z
      .int()
      .min(0)
      .max(STILLS)
      .optional()
      .meta({ description: `1 to ${STILLS}: this frame alone, evenly over the bounce; 0, the default: six side by side` }),
    cut: z.boolean().optional().meta({ description: 'Cut the near half away; default false' }),
  })
  .superRefine(({ name, ...given }, context) => {
    const allowed: readonly Option[] = FILE_KINDS[name]?.options ?? [];
    for (const option of Object.keys(given) as Option[]) {
      if (given[option] === undefined || allowed.includes(option)) continue;
      const message = `is no option of ${name}; allowed: ${['name', ...allowed].join(', ')}`;
      context.addIssue({ code: 'custom', path: [option], input: given[option], message });
    }
  })
  .meta({ id: 'FileOrder' });
export type FileOrder = z.infer<typeof fileOrder>;

export const orderedFile = z
  .strictObject({
    evaluationId: identifier,
    name: z
      .string()
      .meta({ description: 'Name under which it is to be had: that of the order, with the options that are not the default' }),
    status: evaluationStatus,
    stage: z.string().nullable(),
    progressPct: z.number().min(0).max(100),
    error: runError.nullable(),
  })
  .meta({ id: 'OrderedFile' });
export type OrderedFile = z.infer<typeof orderedFile>;

/** Name of an ordered file: options at their defaults change nothing. "lattice-chordMm-0.02.stl". */
export function storedName({ name, ...given }: FileOrder): string {
  const marks = (Object.keys(FILE_DEFAULTS) as Option[])
    .filter((option) => given[option] !== undefined && given[option] !== FILE_DEFAULTS[option])
    .map((option) => (given[option] === true ? `-${option}` : `-${option}-${given[option]}`));
  const dot = name.lastIndexOf('.');
  return `${name.slice(0, dot)}${marks.join('')}${name.slice(dot)}`;
}

/** Media type of a file by the name that an order has; null: no such file. */
export const fileKind = (name: string): FileKind | null => (name in FILE_KINDS ? FILE_KINDS[name as FileName] : null);
