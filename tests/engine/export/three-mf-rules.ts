import type { Element } from '@xmldom/xmldom';
import { type LatticeRead, readMesh } from './three-mf-lattice.ts';
import { children, type Finding, type Findings, modelRoot, must, should } from './three-mf-package.ts';
import { BALLS, BEAM_LATTICE, CORE, checkShape, numberAt, transformOf } from './three-mf-schema.ts';

/** What a file says, and which rules it breaks. */
export interface Report extends Findings {
  readonly lattices: readonly LatticeRead[];
  readonly metadata: ReadonlyMap<string, string>;
  readonly items: readonly { readonly objectId: number; readonly transform: readonly number[] }[];
}

const UNITS = ['micron', 'millimeter', 'centimeter', 'inch', 'foot', 'meter'];
const TYPES = ['model', 'solidsupport', 'support', 'surface', 'other'];
/** Metadata names without a namespace: 3MF Core Specification, table of well-known names. */
const METADATA = [
  'Title',
  'Designer',
  'Description',
  'Copyright',
  'LicenseTerms',
  'Rating',
  'CreationDate',
  'ModificationDate',
  'Application',
];
/** Two roundings of a micron's thousandth. */
const OCTANT_MM = 2e-6;

/**
 * Checks a 3MF file against the rules of the 3MF Core Specification 1.3 and its Beam Lattice Extension 1.2.0 that concern lattices and closed
 * meshes. Objects made of components and extensions other than beams and balls are not covered.
 */
export function checkThreeMf(bytes: Uint8Array): Report {
  const findings: Findings = { broken: [], notes: [] };
  const root = modelRoot(bytes, findings);
  const nothing = { ...findings, lattices: [], metadata: new Map(), items: [] };
  if (!root || !must(findings, root.localName === 'model' && root.namespaceURI === CORE, 'root', root.tagName)) return nothing;
  checkShape(root, findings);
  must(findings, UNITS.includes(root.getAttribute('unit') ?? 'millimeter'), 'unit', root.getAttribute('unit') ?? '');
  checkExtensions(root, findings);
  const objects = readObjects(root, findings);
  const lattices = [...objects.values()].filter((each) => each !== null);
  const items = readItems(root, objects, findings);
  return { ...findings, lattices, metadata: readMetadata(root, findings), items };
}

/** Prefixes that are listed must be declared; that of the beams is listed, that of the balls just where there are some (SHOULD). */
function checkExtensions(root: Element, findings: Findings): void {
  const listed = (root.getAttribute('requiredextensions') ?? '').split(/\s+/).filter((each) => each !== '');
  const required = listed.map((prefix) => root.getAttribute(`xmlns:${prefix}`) ?? `undeclared ${prefix}`);
  for (const namespace of required) must(findings, !namespace.startsWith('undeclared'), 'prefix-undeclared', namespace);
  const uses = (namespace: string) => root.getElementsByTagNameNS(namespace, '*').length > 0 || hasBallMode(root, namespace);
  must(findings, !uses(BEAM_LATTICE) || required.includes(BEAM_LATTICE), 'required-extension', BEAM_LATTICE);
  should(findings, uses(BALLS) === required.includes(BALLS), 'ball-extension', BALLS);
}

const hasBallMode = (root: Element, namespace: string): boolean =>
  namespace === BALLS &&
  Array.from(root.getElementsByTagNameNS(BEAM_LATTICE, 'beamlattice')).some((each) => each.hasAttributeNS(BALLS, 'ballmode'));

function readMetadata(root: Element, findings: Findings): Map<string, string> {
  const metadata = new Map<string, string>();
  for (const element of children(root, CORE, 'metadata')) {
    const name = element.getAttribute('name') ?? '';
    const namespaced = name.includes(':') && root.hasAttribute(`xmlns:${name.split(':')[0]}`);
    must(findings, namespaced || METADATA.includes(name), 'metadata-name', name);
    must(findings, !metadata.has(name), 'metadata-twice', name);
    metadata.set(name, element.textContent ?? '');
  }
  return metadata;
}

/** Objects by id, null for one without a lattice. Ids are known only from where they stand on: nothing refers forward. */
function readObjects(root: Element, findings: Findings): Map<number, LatticeRead | null> {
  const objects = new Map<number, LatticeRead | null>();
  for (const resources of children(root, CORE, 'resources')) {
    for (const object of children(resources, CORE, 'object')) {
      const id = numberAt(object, 'id', 'index', findings);
      must(findings, id >= 1 && !objects.has(id), 'object-id', String(id));
      const type = object.getAttribute('type') ?? 'model';
      must(findings, TYPES.includes(type), 'object-type', type);
      const [mesh] = children(object, CORE, 'mesh');
      if (mesh) objects.set(id, readMesh({ object, id, type, mesh, meshes: meshesOf(objects) }, findings));
    }
  }
  return objects;
}

const meshesOf = (objects: ReadonlyMap<number, LatticeRead | null>): Set<number> =>
  new Set([...objects].filter(([, lattice]) => lattice === null).map(([id]) => id));

function readItems(root: Element, objects: ReadonlyMap<number, LatticeRead | null>, findings: Findings): Report['items'] {
  return children(root, CORE, 'build').flatMap((build) =>
    children(build, CORE, 'item').map((item) => {
      const objectId = numberAt(item, 'objectid', 'index', findings);
      must(findings, objects.has(objectId), 'item-object', String(objectId));
      const transform = transformOf(item, findings);
      const lattice = objects.get(objectId);
      if (lattice) should(findings, Math.min(...lowest(lattice, transform)) >= -OCTANT_MM, 'positive-octant', `item of object ${objectId}`);
      return { objectId, transform };
    }),
  );
}

/** Least x, y and z of a lattice's spheres, moved and turned but not scaled. */
function lowest({ vertices, beams, balls }: LatticeRead, transform: readonly number[]): number[] {
  const spheres = [
    ...beams.flatMap(({ v1, v2, r1, r2 }) => [
      [v1, r1],
      [v2, r2],
    ]),
    ...balls.map(({ vertex, r }) => [vertex, r]),
  ];
  return [0, 1, 2].map((k) =>
    spheres.reduce((least, [vertex, r]) => {
      const at = vertices[vertex];
      return at
        ? Math.min(least, at[0] * transform[k] + at[1] * transform[3 + k] + at[2] * transform[6 + k] + transform[9 + k] - r)
        : least;
    }, Number.POSITIVE_INFINITY),
  );
}

/** Rules that are broken, each once. */
export const rulesOf = (findings: readonly Finding[]): string[] => [...new Set(findings.map(({ rule }) => rule))];
