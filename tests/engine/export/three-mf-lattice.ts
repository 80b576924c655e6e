import type { Element } from '@xmldom/xmldom';
import { children, type Findings, must, should } from './three-mf-package.ts';
import { BALLS, BEAM_LATTICE, CORE, numberAt, numberOf } from './three-mf-schema.ts';

type Place = readonly [number, number, number];

/** A beam lattice as a reader understands it: every radius filled in. */
export interface LatticeRead {
  readonly objectId: number;
  readonly name: string | null;
  readonly vertices: readonly Place[];
  readonly beams: readonly { readonly v1: number; readonly v2: number; readonly r1: number; readonly r2: number }[];
  /** Balls where the mode gives some, also those that mode `all` implies. */
  readonly balls: readonly { readonly vertex: number; readonly r: number }[];
  readonly minLength: number;
}

interface MeshObject {
  readonly object: Element;
  readonly id: number;
  readonly type: string;
  readonly mesh: Element;
  /** Ids of the mesh objects without a lattice that stand earlier in the file. */
  readonly meshes: ReadonlySet<number>;
}

/** Checks one mesh; gives its lattice, or null when it has none. */
export function readMesh({ object, id, type, mesh, meshes }: MeshObject, findings: Findings): LatticeRead | null {
  const vertices = readVertices(mesh, findings);
  const [lattice] = children(mesh, BEAM_LATTICE, 'beamlattice');
  checkTriangles(mesh, vertices, { closed: type === 'model' || type === 'solidsupport', lattice: lattice !== undefined }, findings);
  if (!lattice) return null;
  must(findings, type === 'model' || type === 'solidsupport', 'lattice-of-type', type);
  checkChoice(lattice, 'cap', ['sphere', 'hemisphere', 'butt'], findings);
  checkChoice(lattice, 'clippingmode', ['none', 'inside', 'outside'], findings);
  checkReferences(lattice, meshes, findings);
  checkProperties(object, lattice, findings);
  const minLength = numberAt(lattice, 'minlength', 'positive', findings);
  const beams = readBeams(lattice, vertices, minLength, findings);
  checkBeamSets(lattice, beams.length, findings);
  const balls = readBalls(lattice, beams, findings);
  return { objectId: id, name: object.getAttribute('name'), vertices, beams, balls, minLength };
}

function readVertices(mesh: Element, findings: Findings): Place[] {
  const seen = new Set<string>();
  return children(mesh, CORE, 'vertices').flatMap((list) =>
    children(list, CORE, 'vertex').map((vertex, k): Place => {
      const place: Place = [
        numberAt(vertex, 'x', 'number', findings),
        numberAt(vertex, 'y', 'number', findings),
        numberAt(vertex, 'z', 'number', findings),
      ];
      should(findings, !seen.has(place.join()), 'vertex-twice', `vertex ${k}`);
      seen.add(place.join());
      return place;
    }),
  );
}

/** Distinct corners; where the mesh is a solid every edge has two triangles that run along it in opposite senses, and the volume is positive. */
function checkTriangles(
  mesh: Element,
  vertices: Place[],
  { closed, lattice }: { closed: boolean; lattice: boolean },
  findings: Findings,
): void {
  const triangles = children(mesh, CORE, 'triangles').flatMap((list) => children(list, CORE, 'triangle'));
  const enough = must(findings, lattice || !closed || triangles.length >= 4, 'triangles-of-a-solid', `${triangles.length} triangles`);
  const corners = triangles.map((each) => ['v1', 'v2', 'v3'].map((name) => indexOf(each, name, vertices.length, findings)));
  const distinct = corners.filter((each) => must(findings, new Set(each).size === 3, 'distinct-corners', each.join(' ')));
  if (!closed || !enough || distinct.length < corners.length || corners.length === 0) return;
  const edges = corners.flatMap(([a, b, c]) => [`${a} ${b}`, `${b} ${c}`, `${c} ${a}`]);
  const once = new Set(edges);
  const paired = edges.every((edge) => once.has(edge.split(' ').reverse().join(' ')));
  must(findings, once.size === edges.length && paired, 'manifold', `${edges.length} edges`);
  const volume = corners.reduce((sum, [a, b, c]) => sum + tripleProduct(vertices[a], vertices[b], vertices[c]) / 6, 0);
  must(findings, volume > 0, 'outward', `volume ${volume}`);
}

const tripleProduct = (a: Place, b: Place, c: Place): number =>
  a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0]);

function indexOf(element: Element, attribute: string, count: number, findings: Findings): number {
  const index = numberAt(element, attribute, 'index', findings);
  if (!Number.isNaN(index)) must(findings, index < count, 'index-range', `${element.localName} ${attribute}="${index}" of ${count}`);
  return index;
}

function checkChoice(element: Element, attribute: string, choices: readonly string[], findings: Findings): void {
  const value = element.getAttribute(attribute);
  must(findings, value === null || choices.includes(value), attribute, value ?? '');
}

function checkReferences(lattice: Element, meshes: ReadonlySet<number>, findings: Findings): void {
  const mode = lattice.getAttribute('clippingmode') ?? 'none';
  const clipped = mode === 'inside' || mode === 'outside';
  must(findings, !clipped || lattice.hasAttribute('clippingmesh'), 'clipping-mesh-missing', mode);
  for (const attribute of ['clippingmesh', 'representationmesh'].filter((each) => lattice.hasAttribute(each)))
    must(findings, meshes.has(numberAt(lattice, attribute, 'index', findings)), 'mesh-reference', attribute);
}

/** Where a beam or ball has a property, lattice or object must give one to the rest. */
function checkProperties(object: Element, lattice: Element, findings: Findings): void {
  const parts = [...lattice.getElementsByTagNameNS(BEAM_LATTICE, 'beam'), ...lattice.getElementsByTagNameNS(BALLS, 'ball')];
  if (!parts.some((each) => ['pid', 'p', 'p1', 'p2'].some((name) => each.hasAttribute(name)))) return;
  const given = [lattice, object].some((each) => each.hasAttribute('pid') && each.hasAttribute('pindex'));
  must(findings, given, 'property-default', 'beamlattice');
}

function readBeams(lattice: Element, vertices: readonly Place[], minLength: number, findings: Findings): LatticeRead['beams'] {
  const radius = numberAt(lattice, 'radius', 'positive', findings);
  const [list] = children(lattice, BEAM_LATTICE, 'beams');
  return (list ? children(list, BEAM_LATTICE, 'beam') : []).map((beam, k) => {
    const [v1, v2] = [indexOf(beam, 'v1', vertices.length, findings), indexOf(beam, 'v2', vertices.length, findings)];
    must(findings, v1 !== v2, 'distinct-ends', `beam ${k}`);
    must(findings, !beam.hasAttribute('r2') || beam.hasAttribute('r1'), 'r2-without-r1', `beam ${k}`);
    for (const cap of ['cap1', 'cap2']) checkChoice(beam, cap, ['sphere', 'hemisphere', 'butt'], findings);
    if (vertices[v1] && vertices[v2])
      should(findings, lengthOf(vertices[v1], vertices[v2]) >= minLength, 'shorter-than-minlength', `beam ${k}`);
    const r1 = beam.hasAttribute('r1') ? numberAt(beam, 'r1', 'positive', findings) : radius;
    return { v1, v2, r1, r2: beam.hasAttribute('r2') ? numberAt(beam, 'r2', 'positive', findings) : r1 };
  });
}

export const lengthOf = (a: Place, b: Place): number => Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);

function checkBeamSets(lattice: Element, beams: number, findings: Findings): void {
  for (const ref of lattice.getElementsByTagNameNS(BEAM_LATTICE, 'ref')) indexOf(ref, 'index', beams, findings);
  const names = Array.from(lattice.getElementsByTagNameNS(BEAM_LATTICE, 'beamset'), (each) => each.getAttribute('identifier'));
  const given = names.filter((each) => each !== null);
  must(findings, new Set(given).size === given.length, 'beamset-identifier', given.join(' '));
}

function readBalls(lattice: Element, beams: LatticeRead['beams'], findings: Findings): LatticeRead['balls'] {
  const mode = lattice.getAttributeNS(BALLS, 'ballmode') ?? 'none';
  must(findings, ['none', 'mixed', 'all'].includes(mode), 'ballmode', mode);
  const text = lattice.getAttributeNS(BALLS, 'ballradius');
  must(findings, mode === 'none' || text !== null, 'ballradius-missing', mode);
  const radius = text === null ? Number.NaN : numberOf(text, 'beamlattice ballradius', 'positive', findings);
  const ends = new Set(beams.flatMap(({ v1, v2 }) => [v1, v2]));
  const radii = new Map(mode === 'all' ? [...ends].map((vertex) => [vertex, radius]) : []);
  for (const ball of lattice.getElementsByTagNameNS(BALLS, 'ball')) {
    const vertex = numberAt(ball, 'vindex', 'index', findings);
    if (!Number.isNaN(vertex)) must(findings, ends.has(vertex), 'ball-at-no-end', `ball at ${vertex}`);
    radii.set(vertex, ball.hasAttribute('r') ? numberAt(ball, 'r', 'positive', findings) : radius);
  }
  return mode === 'none' ? [] : [...radii].map(([vertex, r]) => ({ vertex, r }));
}
