import { readFileSync } from 'node:fs';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { threeMf } from '../../../worker/engine/export/index.ts';
import { graphOf } from '../print/samples.ts';
import { checkThreeMf, rulesOf } from './three-mf-rules.ts';
import { MODEL, partsOf, repacked, withSpheres } from './three-mf-samples.ts';

/** A bent rod of a cylinder, a cone and a cylinder of another radius, with a ball on its second corner. */
const rod = graphOf(
  [
    [0, 0, 0],
    [10, 0, 0],
    [10, 10, 0],
    [10, 10, 10],
  ],
  [
    [0, 1, 2],
    [1, 2, 2, 3],
    [2, 3, 3],
  ],
);
const whole = threeMf([{ graph: withSpheres(rod, (node, r) => (node === 1 ? 4 : r)), name: 'rod', placements: [{ x: 5, y: 5, z: 5 }] }], {
  Title: 'A rod',
});
const model = partsOf(whole)[MODEL];

/** A closed mesh before the rod, which makes room for what refers to meshes. */
const TETRAHEDRON = `<object id="7" type="model"><mesh><vertices>
<vertex x="0" y="0" z="0"/><vertex x="9" y="0" z="0"/><vertex x="0" y="9" z="0"/><vertex x="0" y="0" z="9"/></vertices>
<triangles><triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/><triangle v1="1" v2="2" v3="3"/><triangle v1="2" v2="0" v3="3"/>
</triangles></mesh></object>`;
const withMesh = (mesh: string, use = '') => model.replace('<resources>', `<resources>${mesh}`).replace(' cap="sphere"', `$&${use}`);

/** Each breaks one rule; `from` must be in the model, so that no variant is the whole one by mistake. */
const BROKEN: readonly [rule: string, from: string | RegExp, to: string][] = [
  ['root', /model/g, 'mold'],
  ['well-formed', '</b:beams>', ''],
  ['utf-8', 'UTF-8', 'latin1'],
  ['no-document-type', '<model', '<!DOCTYPE model><model'],
  ['xml-attribute', '<build>', '<build xml:space="preserve">'],
  ['unit', 'unit="millimeter"', 'unit="furlong"'],
  ['required-extension', 'requiredextensions="b b2"', 'requiredextensions="b2"'],
  ['prefix-undeclared', 'requiredextensions="b b2"', 'requiredextensions="b b2 b3"'],
  ['metadata-name', 'name="Title"', 'name="Weather"'],
  ['metadata-twice', '<metadata name="Title">', '<metadata name="Title">twice</metadata>$&'],
  ['order-of-elements', /(<resources>[\s\S]*<\/resources>)\n(<build>[\s\S]*<\/build>)/, '$2\n$1'],
  ['number-of-elements', /<build>[\s\S]*<\/build>/, ''],
  ['element', '<b:beams>', '<b:beams><b:strut/>'],
  ['attribute', '<b:beam v1="0"', '<b:beam v3="0" v1="0"'],
  ['attribute-missing', / minlength="[^"]*"/, ''],
  ['attribute-missing', '<b:beam v1="0" v2="1"', '<b:beam v1="0"'],
  ['object-id', /id="1"/g, 'id="0"'],
  ['lattice-of-type', 'type="model"', 'type="support"'],
  ['number-pattern', 'x="10" y="0"', 'x="NaN" y="0"'],
  ['number-pattern', 'x="10" y="0"', 'x="10." y="0"'],
  ['number-pattern', 'x="10" y="0"', 'x="10,0" y="0"'],
  ['positive-pattern', ' radius="1"', ' radius="-1"'],
  ['positive-pattern', ' radius="1"', ' radius="0"'],
  ['positive-pattern', 'b2:ballradius="4"', 'b2:ballradius="-4"'],
  ['index-pattern', '<b:beam v1="0"', '<b:beam v1="0.0"'],
  ['index-range', '<b:beam v1="0"', '<b:beam v1="4"'],
  ['distinct-ends', '<b:beam v1="0" v2="1"', '<b:beam v1="0" v2="0"'],
  ['r2-without-r1', 'r1="1" r2="1.5"', 'r2="1.5"'],
  ['cap', 'cap="sphere"', 'cap="round"'],
  ['cap1', '<b:beam v1="0"', '<b:beam cap1="cone" v1="0"'],
  ['clippingmode', 'cap="sphere"', 'cap="sphere" clippingmode="half"'],
  ['clipping-mesh-missing', 'cap="sphere"', 'cap="sphere" clippingmode="inside"'],
  ['mesh-reference', 'cap="sphere"', 'cap="sphere" clippingmode="inside" clippingmesh="1"'],
  ['mesh-reference', 'cap="sphere"', 'cap="sphere" representationmesh="2"'],
  ['property-default', '<b:beam v1="0"', '<b:beam p1="0" v1="0"'],
  ['ballmode', 'b2:ballmode="mixed"', 'b2:ballmode="some"'],
  ['ballradius-missing', ' b2:ballradius="4"', ''],
  ['number-of-elements', '<b2:ball vindex="1"/>', ''],
  ['beamset-identifier', '</b:beams>', '$&<b:beamsets><b:beamset identifier="a"/><b:beamset identifier="a"/></b:beamsets>'],
  ['item-object', 'objectid="1"', 'objectid="2"'],
  ['transform', 'transform="1 0 0 0', 'transform="1 0 0'],
];

const ruleOfModel = (text: string) => rulesOf(checkThreeMf(repacked(whole, (parts) => (parts[MODEL] = text))).broken);

describe('the rules of 3MF', () => {
  it('hold for the file that the broken ones are made of', () => {
    expect(checkThreeMf(whole)).toMatchObject({ broken: [], notes: [] });
    expect(ruleOfModel(withMesh(TETRAHEDRON))).toEqual([]);
    for (const use of [' clippingmode="outside" clippingmesh="7"', ' representationmesh="7"'])
      expect(ruleOfModel(withMesh(TETRAHEDRON, use))).toEqual([]);
  });

  it.each(BROKEN)('refuse by %s a model with %s changed to %s', (rule, from, to) => {
    const changed = model.replace(from, to);
    expect(changed).not.toBe(model);
    expect(ruleOfModel(changed)).toEqual([rule]);
  });

  it.each([
    ['manifold', '<triangle v1="0" v2="2" v3="1"/>', '<triangle v1="0" v2="1" v3="2"/>'],
    ['outward', / v2="(\d)" v3="(\d)"/g, ' v2="$2" v3="$1"'],
    ['distinct-corners', '<triangle v1="0" v2="2" v3="1"/>', '$&<triangle v1="0" v2="0" v3="1"/>'],
    ['triangles-of-a-solid', '<triangle v1="0" v2="2" v3="1"/>', ''],
    ['object-id', 'id="7"', 'id="1"'],
    ['object-type', 'type="model"', 'type="lattice"'],
  ])('refuse by %s a mesh with %s changed to %s', (rule, from, to) => {
    expect(ruleOfModel(withMesh(TETRAHEDRON.replace(from, to)))).toEqual([rule]);
  });

  it('refuse a ball at a vertex that no beam ends at', () => {
    const beamsMoved = model.replace(/ v([12])="(\d)"/g, (_, end, vertex) => ` v${end}="${Number(vertex) + 1}"`);
    const loose = beamsMoved.replace('<vertices>', '$&<vertex x="1" y="2" z="3"/>').replace('vindex="1"', 'vindex="0"');
    expect(ruleOfModel(loose)).toEqual(['ball-at-no-end']);
  });

  it('refuse a representation or a clipping by an object that comes later', () => {
    const later = model.replace('</resources>', `${TETRAHEDRON}</resources>`).replace(' cap="sphere"', '$& representationmesh="7"');
    expect(ruleOfModel(later)).toEqual(['mesh-reference']);
  });
});

describe('the rules of the package', () => {
  it.each<[string, (parts: Record<string, string>) => void]>([
    ['part-missing', (parts) => delete parts['[Content_Types].xml']],
    ['part-missing', (parts) => delete parts[MODEL]],
    ['content-type', (parts) => (parts['[Content_Types].xml'] = parts['[Content_Types].xml'].replace('3dmodel+xml', 'model+xml'))],
    ['content-type', (parts) => (parts['notes.txt'] = 'not declared')],
    ['one-start-part', (parts) => (parts['_rels/.rels'] = parts['_rels/.rels'].replace('2013/01/3dmodel', '2013/01/thumbnail'))],
    ['one-start-part', (parts) => (parts['_rels/.rels'] = parts['_rels/.rels'].replace(/<Relationship .*/, '$&$&'))],
    ['absolute-part-name', (parts) => (parts['_rels/.rels'] = parts['_rels/.rels'].replace('"/3D', '"3D'))],
  ])('refuse by %s', (rule, change) => {
    expect(rulesOf(checkThreeMf(repacked(whole, change)).broken)).toEqual([rule]);
  });

  it('take stored and deflated parts, and no other', () => {
    const stored = zipSync(Object.fromEntries(Object.entries(partsOf(whole)).map(([name, text]) => [name, strToU8(text)])), { level: 0 });
    expect(checkThreeMf(stored).broken).toEqual([]);
    // method 12 (bzip2) in the central directory, whose entries begin with the signature PK 1 2
    const at = stored.findLastIndex((_, k) => strFromU8(stored.subarray(k, k + 4), true) === 'PK\u0001\u0002');
    stored[at + 10] = 12;
    expect(rulesOf(checkThreeMf(stored).broken)).toEqual(['zip-method']);
  });
});

describe('what a file should be', () => {
  it.each([
    ['vertex-twice', '<vertex x="10" y="10" z="10"/>', '$&\n<vertex x="10" y="10" z="10"/>'],
    ['shorter-than-minlength', / minlength="[^"]*"/, ' minlength="10.5"'],
    ['positive-octant', 'transform="1 0 0 0 1 0 0 0 1 5 5 5"', ''],
    ['ball-extension', 'requiredextensions="b b2"', 'requiredextensions="b"'],
    ['former-attribute', 'cap="sphere"', 'cap="sphere" clipping="inside"'],
  ])('is noted by %s, not refused', (rule, from, to) => {
    const changed = model.replace(from, to);
    expect(changed).not.toBe(model);
    const { broken, notes } = checkThreeMf(repacked(whole, (parts) => (parts[MODEL] = changed)));
    expect(broken).toEqual([]);
    expect(rulesOf(notes)).toEqual([rule]);
  });

  it.each([
    ['pyramid.3mf', ['positive-octant']],
    // drawn about the origin, with an attribute that a later version gave another name
    ['variable-voronoi.3mf', ['former-attribute', 'positive-octant']],
  ])('%s, a published sample, breaks no rule', (name, noted) => {
    const bytes = readFileSync(new URL(`../../fixtures/3mf/${name}`, import.meta.url));
    expect(Object.keys(unzipSync(bytes))).toContain(MODEL);
    const { broken, notes } = checkThreeMf(bytes);
    expect(broken).toEqual([]);
    expect(rulesOf(notes)).toEqual(noted);
  });
});
