import { decimal, escaped } from './xml-text.ts';

/** Names that the 3MF Core Specification 1.3 gives to metadata without a namespace (section 3.4.1, table 8-1). */
export type MetadataName =
  | 'Title'
  | 'Designer'
  | 'Description'
  | 'Copyright'
  | 'LicenseTerms'
  | 'Rating'
  | 'CreationDate'
  | 'ModificationDate'
  | 'Application';
export type Metadata = Readonly<Partial<Record<MetadataName, string>>>;

/** Where the origin of a part's graph lies in the build, mm. */
export interface Placement {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** Built size over designed size along x, y, z; 1 where it is left out. */
  readonly scale?: readonly [number, number, number];
}

/** One object of a build, the content of its `mesh` element, and the places where it is made. */
export interface ModelPart {
  readonly mesh: Iterable<string>;
  readonly name: string;
  readonly placements: readonly Placement[];
}

const CORE = 'http://schemas.microsoft.com/3dmanufacturing/core/2015/02';
const BEAM_LATTICE = 'http://schemas.microsoft.com/3dmanufacturing/beamlattice/2017/02';
const BALLS = 'http://schemas.microsoft.com/3dmanufacturing/beamlattice/balls/2020/07';

/** Extensions that a reader has to know: none for triangles alone; balls where there are some. */
export type Extensions = 'none' | 'beams' | 'beams and balls';
const REQUIRED: Readonly<Record<Extensions, string>> = {
  none: '',
  beams: ` xmlns:b="${BEAM_LATTICE}" requiredextensions="b"`,
  'beams and balls': ` xmlns:b="${BEAM_LATTICE}" xmlns:b2="${BALLS}" requiredextensions="b b2"`,
};

/** The model part: metadata, one object for each part, one build item for each of its placements. Line by line. */
export function* modelXml(parts: readonly ModelPart[], metadata: Metadata, extensions: Extensions): Generator<string> {
  yield '<?xml version="1.0" encoding="UTF-8"?>\n';
  yield `<model unit="millimeter" xml:lang="en-US" xmlns="${CORE}"${REQUIRED[extensions]}>\n`;
  for (const [name, text] of Object.entries(metadata)) yield `<metadata name="${name}">${escaped(text)}</metadata>\n`;
  yield '<resources>\n';
  for (const [k, { mesh, name }] of parts.entries()) {
    yield `<object id="${k + 1}" type="model" name="${escaped(name)}">\n`;
    for (const line of mesh) yield `${line}\n`;
    yield '</object>\n';
  }
  yield '</resources>\n<build>\n';
  for (const [k, { placements }] of parts.entries())
    for (const place of placements) yield `<item objectid="${k + 1}" transform="${transform(place)}"/>\n`;
  yield '</build>\n</model>\n';
}

/** Row-major, the last column left out: the scales on the diagonal, then the shift. */
const transform = ({ x, y, z, scale: [a, b, c] = [1, 1, 1] }: Placement): string =>
  `${decimal(a)} 0 0 0 ${decimal(b)} 0 0 0 ${decimal(c)} ${decimal(x)} ${decimal(y)} ${decimal(z)}`;
