import { describe, expect, it } from 'vitest';
import { type BuildPart, inFirstOctant, threeMf } from '../../../worker/engine/export/index.ts';
import { buildLattice, type ParameterSet, type StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { latticeOf, parametersOf, tilingOf } from '../lattice/samples.ts';
import { graphOf } from '../print/samples.ts';
import { randomGraph } from '../solid/random-graphs.ts';
import { volumeOf } from '../solid/samples.ts';
import { checkThreeMf } from './three-mf-rules.ts';
import { graphOfRead, MODEL, partsOf, withSpheres } from './three-mf-samples.ts';

const ball = latticeOf({
  m: 1,
  n: 0,
  outsideDiameterMm: 60,
  layers: [
    { depthMm: 0, strutDiameterMm: 3 },
    { depthMm: 8, strutDiameterMm: 2 },
  ],
  posts: 2.5,
}).graph;

function shaped(change: Partial<ParameterSet>): StrutGraph {
  const layers = [
    { depthMm: 0, strutDiameterMm: 3 },
    { depthMm: 8, strutDiameterMm: 2 },
  ];
  const set = { ...parametersOf({ m: 1, n: 1, outsideDiameterMm: 90, layers, posts: 2 }), ...change };
  const built = buildLattice(set, tilingOf(set));
  if ('refused' in built) throw new Error(`${built.path.join('/')}: ${built.message}`);
  return built.graph;
}

const alone = (graph: StrutGraph, name = 'lattice'): BuildPart[] => [{ graph, name, placements: [inFirstOctant(graph)] }];
const read = (graph: StrutGraph) => checkThreeMf(threeMf(alone(graph), {}));
const modelOf = (graph: StrutGraph) => partsOf(threeMf(alone(graph), {}))[MODEL];
const count = (text: string, pattern: RegExp) => text.match(pattern)?.length ?? 0;

const LATTICES: readonly [name: string, graph: StrutGraph][] = [
  ['two layers and posts', ball],
  ['four layers, class III', latticeOf({ m: 2, n: 1, outsideDiameterMm: 120, layers: [0, 8, 16, 24].map(layerAt), posts: 2 }).graph],
  ['braces', shaped({ links: { pattern: 'braced', strutDiameterMm: 2 } })],
  ['tapered struts', shaped({ layers: [0, 8].map((depthMm) => ({ depthMm, strutDiameterMm: 3, taper: 0.7 })) })],
  [
    'a gradient',
    shaped({ layers: [0, 8].map((depthMm) => ({ depthMm, strutDiameterMm: 3, gradient: { axis: 'z', fromFactor: 0.8, toFactor: 1.3 } })) }),
  ],
  ['cones, no two alike', randomGraph(3)],
  ['larger spheres at some nodes', withSpheres(ball, (node, needed) => (node % 3 === 0 ? needed + 0.5 : needed))],
  ['larger spheres at all nodes', withSpheres(ball, (node, needed) => needed + (node < 20 ? 0.75 : 0.5))],
];
function layerAt(depthMm: number) {
  return { depthMm, strutDiameterMm: 3 };
}

describe('a 3MF file', () => {
  it.each(LATTICES)('of %s keeps every rule and recommendation', (_, graph) => {
    const { broken, notes, lattices, items } = read(graph);
    expect({ broken, notes }).toEqual({ broken: [], notes: [] });
    expect(lattices).toHaveLength(1);
    expect(items).toHaveLength(1);
  });

  it.each(LATTICES)('of %s says the same nodes, struts and solid', (_, graph) => {
    const [{ vertices, beams, balls }] = read(graph).lattices;
    expect([vertices.length, beams.length]).toEqual([graph.nodeCount, graph.strutCount]);
    // half of the last of six decimals, and the rounding of the sum that stands for it
    const off = 0.51e-6;
    vertices.flat().forEach((x, k) => {
      expect(Math.abs(x - graph.xyz[k])).toBeLessThan(off);
    });
    beams.forEach(({ v1, v2, r1, r2 }, s) => {
      expect([v1, v2]).toEqual([graph.ends[2 * s], graph.ends[2 * s + 1]]);
      expect(Math.abs(r1 - graph.diameters[2 * s] / 2)).toBeLessThan(off);
      expect(Math.abs(r2 - graph.diameters[2 * s + 1] / 2)).toBeLessThan(off);
    });
    const back = graphOfRead({ objectId: 1, name: '', vertices, beams, balls, minLength: 0 });
    back.nodeRadius.forEach((r, node) => {
      expect(Math.abs(r - graph.nodeRadius[node])).toBeLessThan(off);
    });
  });

  it('has no ball where the ends of the struts make the node', () => {
    expect(modelOf(ball)).not.toMatch(/balls|b2/);
  });

  it('has a ball just where a node is larger, its radius told once', () => {
    const some = modelOf(withSpheres(ball, (node, needed) => (node < 4 ? 2.25 : needed)));
    expect(some).toMatch(/requiredextensions="b b2"/);
    expect(some).toMatch(/b2:ballmode="mixed" b2:ballradius="2\.25"/);
    expect(some.match(/<b2:ball .*/g)).toEqual([0, 1, 2, 3].map((vertex) => `<b2:ball vindex="${vertex}"/>`));
    const two = modelOf(withSpheres(ball, (node, needed) => (node < 3 ? 2.25 + Number(node === 1) : needed)));
    expect(two.match(/<b2:ball .*/g)).toEqual(['<b2:ball vindex="0"/>', '<b2:ball vindex="1" r="3.25"/>', '<b2:ball vindex="2"/>']);
    const all = modelOf(withSpheres(ball, (node) => (node === 7 ? 3 : 2.5)));
    expect(all).toMatch(/b2:ballmode="all" b2:ballradius="2\.5"/);
    expect(all.match(/<b2:ball .*/g)).toEqual(['<b2:ball vindex="7" r="3"/>']);
  });

  it('names the commonest radius once, and r2 only on a cone', () => {
    const model = modelOf(ball);
    expect(model).toMatch(/<b:beamlattice minlength="0\.0000005" radius="1\.5" cap="sphere">/);
    // 30 struts of the outer layer have the default, 30 of the inner one and 20 posts their own
    expect([count(model, /<b:beam /g), count(model, / r1=/g), count(model, / r2=/g)]).toEqual([80, 50, 0]);
    const cones = modelOf(randomGraph(3));
    expect(count(cones, / r2=/g)).toBe(randomGraph(3).strutCount);
    expect(count(cones, / r1="[^"]*" r2=/g)).toBe(randomGraph(3).strutCount);
  });

  it('has plain decimals, no finer than a millionth of a millimetre', () => {
    for (const [, graph] of LATTICES) {
      const numbers = modelOf(graph).match(/ (?:[xyz]|r|r1|r2|radius|b2:ballradius)="[^"]*"/g)!;
      expect(numbers.length).toBeGreaterThan(3 * graph.nodeCount);
      expect(numbers.filter((each) => !/"-?(?:0|[1-9]\d*)(?:\.\d{0,5}[1-9])?"/.test(each))).toEqual([]);
      expect(numbers.filter((each) => /"-0"/.test(each))).toEqual([]);
    }
  });

  it('has no vertex twice and no strut without length: what rounds to one place is one', () => {
    const points = [
      [0, 0, 0],
      [10, 0, 0],
      [10, 2e-7, 0],
      [20, 0, 0],
      [20, 0, 0],
      [20, 9, 0],
    ] as const;
    const [{ vertices, beams, balls }] = read(
      graphOf(points, [
        [0, 1, 2],
        [1, 2, 6],
        [2, 3, 2],
        [4, 5, 2],
      ]),
    ).lattices;
    expect(vertices).toEqual([
      [0, 0, 0],
      [10, 0, 0],
      [20, 0, 0],
      [20, 9, 0],
    ]);
    expect(beams.map(({ v1, v2 }) => [v1, v2])).toEqual([
      [0, 1],
      [1, 2],
      [2, 3],
    ]);
    // the short thick strut was hardly more than its sphere: that stays
    expect(balls).toEqual([{ vertex: 1, r: 3 }]);
  });

  it('gives back the mass of the lattice', () => {
    for (const [name, graph] of LATTICES) {
      const [lattice] = read(graph).lattices;
      // half a millionth of a millimetre on a strut's radius of about 1 mm
      expect(Math.abs(volumeOf(graphOfRead(lattice)) / volumeOf(graph) - 1), name).toBeLessThan(1e-6);
    }
  });

  it('lies in the first octant and touches its three planes', () => {
    const { x, y, z } = inFirstOctant(ball);
    const { transform } = read(ball).items[0];
    expect(transform.slice(0, 9)).toEqual([1, 0, 0, 0, 1, 0, 0, 0, 1]);
    [x, y, z].forEach((shift, k) => {
      expect(transform[9 + k]).toBeCloseTo(shift, 6);
      const low = Math.min(...Array.from(ball.nodeRadius, (r, node) => ball.xyz[3 * node + k] - r));
      expect(low + shift).toBeCloseTo(0, 12);
    });
  });
});

describe('a 3MF file of a build', () => {
  const [a, b] = [ball, shaped({})];
  const bytes = threeMf(
    [
      { graph: a, name: 'Training ball <1> & "friends"\u0007\n', placements: [35, 105].map((x) => ({ x, y: 40, z: 50.5 })) },
      { graph: b, name: 'Trainingsball Größe 1 \uD83E\uDD3E', placements: [{ x: 60, y: 120, z: 50 }] },
    ],
    { Title: 'Harbour <Schools> League & others', Application: 'strutwright', CreationDate: '2027-01-31' },
  );
  const report = checkThreeMf(bytes);

  it('has an object for each part and an item for each copy, where it was placed', () => {
    expect({ broken: report.broken, notes: report.notes }).toEqual({ broken: [], notes: [] });
    expect(report.lattices.map(({ objectId, beams }) => [objectId, beams.length])).toEqual([
      [1, a.strutCount],
      [2, b.strutCount],
    ]);
    expect(report.items.map(({ objectId, transform }) => [objectId, ...transform.slice(9)])).toEqual([
      [1, 35, 40, 50.5],
      [1, 105, 40, 50.5],
      [2, 60, 120, 50],
    ]);
  });

  it('keeps names and metadata whatever characters they have', () => {
    expect(report.lattices.map(({ name }) => name)).toEqual([
      // XML has no character 7, and a line break in an attribute reads as a space
      'Training ball <1> & "friends"\uFFFD ',
      'Trainingsball Größe 1 \uD83E\uDD3E',
    ]);
    expect([...report.metadata]).toEqual([
      ['Title', 'Harbour <Schools> League & others'],
      ['Application', 'strutwright'],
      ['CreationDate', '2027-01-31'],
    ]);
  });

  it('has a mark where a name holds half a character', () => {
    const { lattices } = checkThreeMf(threeMf(alone(ball, 'half \uD83E of one'), {}));
    expect(lattices[0].name).toBe('half \uFFFD of one');
  });

  it('is the same to the last byte in every time zone', () => {
    const zone = process.env.TZ;
    const files = ['UTC', 'Asia/Kolkata', 'America/St_Johns', 'Pacific/Kiritimati'].map((name) => {
      process.env.TZ = name;
      return threeMf(alone(ball), { Title: 'x' });
    });
    if (zone === undefined) delete process.env.TZ;
    else process.env.TZ = zone;
    for (const file of files.slice(1)) expect(file).toEqual(files[0]);
    // the time of the first entry (APPNOTE 4.3.7): noon of 1 January 1980, in units of two seconds and of years from 1980
    const header = new DataView(files[0].buffer, files[0].byteOffset);
    expect([header.getUint16(10, true), header.getUint16(12, true)]).toEqual([12 << 11, (1 << 5) | 1]);
  });

  it('of 32 000 struts is made in well under two seconds', () => {
    const { graph } = latticeOf({
      m: 20,
      n: 0,
      outsideDiameterMm: 181,
      layers: [
        { depthMm: 0, strutDiameterMm: 1 },
        { depthMm: 15, strutDiameterMm: 0.9 },
      ],
      posts: 0.9,
    });
    expect(graph.strutCount).toBe(32_000);
    const started = performance.now();
    const file = threeMf(alone(graph), {});
    // measured at 0.4 s alone on one core
    expect(performance.now() - started).toBeLessThan(2000);
    expect(file.length).toBeLessThan(500_000);
  });
});
