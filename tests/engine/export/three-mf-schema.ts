import type { Element } from '@xmldom/xmldom';
import { children, type Findings, isXmlAttribute, must, should } from './three-mf-package.ts';

export const CORE = 'http://schemas.microsoft.com/3dmanufacturing/core/2015/02';
export const BEAM_LATTICE = 'http://schemas.microsoft.com/3dmanufacturing/beamlattice/2017/02';
export const BALLS = 'http://schemas.microsoft.com/3dmanufacturing/beamlattice/balls/2020/07';

/** Children of an element in their order, with how many of each. */
type Sequence = readonly (readonly [name: string, least: number, most: number])[];
interface Shape {
  readonly attributes: string;
  readonly required: string;
  readonly children: Sequence;
}

const MANY = 2 ** 31 - 1;
const shape = (required: string, optional = '', ...sequence: Sequence): Shape => ({
  attributes: `${required} ${optional}`,
  required,
  children: sequence,
});

/** Elements of the three schemas that a beam lattice needs, by prefix and name; attributes without a namespace. */
const SHAPES: Readonly<Record<string, Shape>> = {
  'core model': shape('', 'unit requiredextensions recommendedextensions', ['metadata', 0, MANY], ['resources', 1, 1], ['build', 1, 1]),
  'core metadata': shape('name', 'preserve type'),
  'core resources': shape('', '', ['object', 0, MANY]),
  'core object': shape('id', 'type thumbnail partnumber name pid pindex', ['mesh', 1, 1]),
  'core mesh': shape('', '', ['vertices', 1, 1], ['triangles', 0, 1], ['beamlattice', 0, 1]),
  // the schema's own minimum of three vertices
  'core vertices': shape('', '', ['vertex', 3, MANY]),
  'core vertex': shape('x y z'),
  'core triangles': shape('', '', ['triangle', 0, MANY]),
  'core triangle': shape('v1 v2 v3', 'p1 p2 p3 pid'),
  'core build': shape('', '', ['item', 0, MANY]),
  'core item': shape('objectid', 'transform partnumber'),
  'beam beamlattice': shape(
    'minlength radius',
    'clippingmode clippingmesh representationmesh pid pindex cap',
    ['beams', 1, 1],
    ['beamsets', 0, 1],
    ['balls', 0, 1],
  ),
  'beam beams': shape('', '', ['beam', 0, MANY]),
  'beam beam': shape('v1 v2', 'r1 r2 p1 p2 pid cap1 cap2'),
  'beam beamsets': shape('', '', ['beamset', 0, MANY]),
  'beam beamset': shape('', 'name identifier', ['ref', 0, MANY], ['ballref', 0, MANY]),
  'beam ref': shape('index'),
  'ball balls': shape('', '', ['ball', 1, MANY]),
  'ball ball': shape('vindex', 'r p pid'),
  'ball ballref': shape('index'),
};
const PREFIX: Readonly<Record<string, string>> = { [CORE]: 'core', [BEAM_LATTICE]: 'beam', [BALLS]: 'ball' };

const nameOf = (element: Element): string => `${PREFIX[element.namespaceURI ?? '']} ${element.localName}`;

/** Attributes of drafts before version 1.0 of the extension, still found in files. */
const FORMER = ['beam beamlattice clipping'];

/** Checks the names, order and attributes of an element and of all below it; elements of other namespaces are left alone. */
export function checkShape(element: Element, findings: Findings): void {
  const name = nameOf(element);
  const known = SHAPES[name];
  if (!must(findings, known !== undefined, 'element', name)) return;
  checkAttributes(element, known, findings, name);
  const below = children(element);
  const own = below.filter((child) => child.namespaceURI && child.namespaceURI in PREFIX);
  // what is no element at all is said once, by its own shape
  const placed = own.filter((child) => nameOf(child) in SHAPES);
  const places = placed.map((child) => known.children.findIndex(([each]) => each === child.localName));
  must(
    findings,
    places.every((place, k) => place >= 0 && (k === 0 || place >= places[k - 1])),
    'order-of-elements',
    name,
  );
  known.children.forEach(([child, least, most], k) => {
    const count = places.filter((place) => place === k).length;
    must(findings, count >= least && count <= most, 'number-of-elements', `${name}: ${count} ${child}`);
  });
  for (const child of own) checkShape(child, findings);
}

function checkAttributes(element: Element, { attributes, required }: Shape, findings: Findings, name: string): void {
  const allowed = attributes.split(' ');
  for (let k = 0; k < element.attributes.length; k++) {
    const { name: attribute, namespaceURI } = element.attributes.item(k)!;
    if (isXmlAttribute(namespaceURI)) must(findings, name === 'core model' && attribute === 'xml:lang', 'xml-attribute', attribute);
    if (namespaceURI) continue;
    if (FORMER.includes(`${name} ${attribute}`)) should(findings, false, 'former-attribute', `${name} ${attribute}`);
    else must(findings, allowed.includes(attribute), 'attribute', `${name} ${attribute}`);
  }
  for (const attribute of required.split(' ').filter((each) => each !== ''))
    must(findings, element.hasAttribute(attribute), 'attribute-missing', `${name} ${attribute}`);
}

const NUMBER = /^[+-]?(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+)?$/;
const POSITIVE = /^\+?(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+)?$/;

type SimpleType = 'number' | 'positive' | 'index';

/** The value of an attribute by its simple type; NaN where it is missing (the shape's finding) or, with a finding, not of that type. */
export function numberAt(element: Element, attribute: string, type: SimpleType, findings: Findings): number {
  const text = element.getAttribute(attribute);
  return text === null ? Number.NaN : numberOf(text, `${element.localName} ${attribute}`, type, findings);
}

export function numberOf(text: string, where: string, type: SimpleType, findings: Findings): number {
  const [trimmed, value] = [text.trim(), Number(text)];
  const fits = {
    number: NUMBER.test(trimmed),
    positive: POSITIVE.test(trimmed) && value > 0,
    index: /^\d+$/.test(trimmed) && value <= MANY,
  }[type];
  return must(findings, fits, `${type}-pattern`, `${where}="${text}"`) ? value : Number.NaN;
}

const IDENTITY = [1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0];

/** Twelve numbers, row-major (ST_Matrix3D); the identity when left out. */
export function transformOf(item: Element, findings: Findings): number[] {
  const text = item.getAttribute('transform');
  if (text === null) return IDENTITY;
  const numbers = text.trim().split(' ');
  const fits = numbers.length === 12 && numbers.every((each) => NUMBER.test(each));
  return must(findings, fits, 'transform', text) ? numbers.map(Number) : IDENTITY;
}
