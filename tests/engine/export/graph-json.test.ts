import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type GraphFault, graphJson, readGraph } from '../../../worker/engine/export/index.ts';
import type { StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { latticeOf } from '../lattice/samples.ts';
import { randomGraph } from '../solid/random-graphs.ts';

const read = (json: unknown): StrutGraph => {
  const answer = readGraph(json);
  if (answer.kind === 'fault') throw new Error(`${answer.fault.pointer} ${answer.fault.detail}`);
  return answer.graph;
};
const faultOf = (json: unknown): GraphFault | null => {
  const answer = readGraph(json);
  return answer.kind === 'fault' ? answer.fault : null;
};
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

describe('graph.json', () => {
  it.each([
    ['a lattice', ball],
    ['a graph of round cones', randomGraph(1)],
  ])('of %s is read back to the last bit, through text', (_, graph) => {
    const back = read(JSON.parse(JSON.stringify(graphJson(graph))));
    expect(back.nodeCount).toBe(graph.nodeCount);
    expect(back.strutCount).toBe(graph.strutCount);
    expect([back.xyz, back.ends, back.diameters, back.nodeRadius]).toEqual([graph.xyz, graph.ends, graph.diameters, graph.nodeRadius]);
    const names = (each: StrutGraph) => Array.from(each.roles, (role) => each.roleNames[role]);
    expect(names(back)).toEqual(names(graph));
  });

  it('has three numbers on a cylinder and four on a cone', () => {
    const { unit, struts, roles } = graphJson(ball);
    expect(unit).toBe('mm');
    expect(struts.every((strut) => strut.length === 3)).toBe(true);
    expect(roles).toEqual([...Array(30).fill('layer-0'), ...Array(30).fill('layer-1'), ...Array(20).fill('link')]);
    expect(graphJson(randomGraph(1)).struts.every((strut) => strut.length === 4)).toBe(true);
  });

  it('may leave the roles out', () => {
    const { roles: _, ...bare } = graphJson(ball);
    const graph = read(bare);
    expect(graph.roleNames).toEqual(['strut']);
    expect(graph.roles.every((role) => role === 0)).toBe(true);
  });

  it('takes the largest diameter that ends at a node for its sphere', () => {
    const nodes = [
      [0, 0, 0],
      [10, 0, 0],
      [0, 10, 0],
    ];
    const struts = [
      [0, 1, 1, 4],
      [0, 2, 2],
    ];
    expect([...read({ unit: 'mm', nodes, struts }).nodeRadius]).toEqual([1, 2, 1]);
  });
});

const line = {
  unit: 'mm',
  nodes: [
    [0, 0, 0],
    [10, 0, 0],
  ],
  struts: [[0, 1, 2]],
};
const third = [5, 5, 5];

describe('a fault of a graph', () => {
  it.each<[string, unknown, string, unknown, RegExp]>([
    ['no object', null, '', null, /"unit": "mm"/],
    ['a list', [], '', [], /not an object/],
    ['another unit', { ...line, unit: 'inch' }, '/unit', 'inch', /allowed: "mm"/],
    ['no unit', { nodes: line.nodes, struts: line.struts }, '/unit', undefined, /allowed: "mm"/],
    ['no nodes', { ...line, nodes: undefined }, '/nodes', undefined, /2 to 1000000/],
    ['one node', { ...line, nodes: [[0, 0, 0]] }, '/nodes', 'a list of 1', /2 to 1000000/],
    ['no struts', { ...line, struts: [] }, '/struts', 'a list of 0', /1 to 2000000/],
    ['struts that are no list', { ...line, struts: 7 }, '/struts', 7, /1 to 2000000/],
    ['a node in the plane', { ...line, nodes: [[0, 0], line.nodes[1]] }, '/nodes/0', [0, 0], /three finite numbers/],
    [
      'a node that is not a number',
      { ...line, nodes: [line.nodes[0], [1, Number.NaN, 0]] },
      '/nodes/1',
      [1, Number.NaN, 0],
      /three finite/,
    ],
    ['a node at infinity', { ...line, nodes: [line.nodes[0], [1, Infinity, 0]] }, '/nodes/1', [1, Infinity, 0], /three finite numbers/],
    ['a node of text', { ...line, nodes: [line.nodes[0], ['1', 0, 0]] }, '/nodes/1', ['1', 0, 0], /three finite numbers/],
    ['a strut without a diameter', { ...line, struts: [[0, 1]] }, '/struts/0', [0, 1], /\[node, node, diameter\]/],
    ['a strut of five numbers', { ...line, struts: [[0, 1, 2, 2, 2]] }, '/struts/0', [0, 1, 2, 2, 2], /\[node, node, diameter/],
    ['a node number too high', { ...line, struts: [[0, 2, 2]] }, '/struts/0', [0, 2, 2], /from 0 to 1/],
    ['a negative node number', { ...line, struts: [[-1, 1, 2]] }, '/struts/0', [-1, 1, 2], /from 0 to 1/],
    ['half a node number', { ...line, struts: [[0, 0.5, 2]] }, '/struts/0', [0, 0.5, 2], /whole node numbers/],
    ['no thickness', { ...line, struts: [[0, 1, 0]] }, '/struts/0', [0, 1, 0], /greater than 0/],
    ['a negative end', { ...line, struts: [[0, 1, 2, -1]] }, '/struts/0', [0, 1, 2, -1], /greater than 0/],
    ['a strut from a node to itself', { ...line, struts: [[1, 1, 2]] }, '/struts/0', [1, 1, 2], /0 mm long; allowed/],
    [
      'a strut that has no length',
      {
        ...line,
        nodes: [
          [0, 0, 0],
          [1e-9, 0, 0],
        ],
      },
      '/struts/0',
      [0, 1, 2],
      /1e-9 mm long; allowed/,
    ],
    ['a loose node', { ...line, nodes: [...line.nodes, third] }, '/nodes/2', third, /belongs to no strut/],
    ['too few roles', { ...line, roles: [] }, '/roles', 'a list of 0', /a list of 1 names/],
    ['a role that is no name', { ...line, roles: [1] }, '/roles', 'a list of 1', /a list of 1 names/],
  ])('%s is named by its place and value', (_, json, pointer, value, detail) => {
    const fault = faultOf(json);
    expect(fault).toMatchObject({ pointer, value });
    expect(fault?.detail).toMatch(detail);
  });

  it('is found whatever the value: anything is either read or refused, never thrown', () => {
    const number = fc.oneof(fc.integer({ min: -2, max: 4 }), fc.double(), fc.constant('1'), fc.constant(null));
    const row = fc.array(number, { maxLength: 5 });
    fc.assert(
      fc.property(
        fc.record({ unit: fc.constantFrom('mm', 'm'), nodes: fc.array(row), struts: fc.array(row), roles: fc.option(row) }),
        (json) => {
          const { kind } = readGraph(json);
          expect(['graph', 'fault']).toContain(kind);
        },
      ),
      { numRuns: 300, seed: 5 },
    );
    fc.assert(
      fc.property(fc.anything(), (json) => {
        expect(readGraph(json).kind).toBe('fault');
      }),
      { numRuns: 300, seed: 6 },
    );
  });
});
