import { describe, expect, it } from 'vitest';
import { apply, at, finder } from '../tiling/samples.ts';
import { type Ball, latticeOf, parametersOf, tilingOf } from './samples.ts';

const layer = (depthMm: number, strutDiameterMm: number) => ({ depthMm, strutDiameterMm });
/** Coordinates of up to 100 mm: a few units of the last place. */
const ROUNDING = 1e-12;

const BALLS: readonly Ball[] = [
  { m: 2, n: 0, outsideDiameterMm: 60, layers: [layer(0, 2)] },
  { m: 1, n: 1, outsideDiameterMm: 80, layers: [layer(0, 3), layer(8, 2)], posts: 2.5 },
  { m: 2, n: 1, outsideDiameterMm: 120, layers: [layer(0, 2), layer(9, 2.5), layer(15, 1.5)], posts: 4, relaxation: 'equal-edges' },
  {
    m: 1,
    n: 2,
    outsideDiameterMm: 150,
    layers: [layer(0, 3), layer(9, 2), layer(20, 4), layer(30, 1)],
    posts: 1.5,
    orientation: 'pentagon-up',
  },
];

describe.each(BALLS)('GP($m,$n) with $layers.length layers', (ball) => {
  const { layers, posts } = ball;
  const lattice = latticeOf(ball);
  const tiling = tilingOf(parametersOf(ball));
  const { graph, nodesPerLayer, strutsPerLayer } = lattice;
  const T = tiling.T;

  it('has 20T nodes and 30T struts in every layer and 20T posts between two', () => {
    expect(nodesPerLayer).toBe(20 * T);
    expect(strutsPerLayer).toBe(30 * T);
    expect(graph.nodeCount).toBe(20 * T * layers.length);
    expect(graph.strutCount).toBe(30 * T * layers.length + 20 * T * (layers.length - 1));
  });

  it('has every node along its direction of the tiling, at the radius of its layer', () => {
    layers.forEach(({ depthMm }, k) => {
      const radius = lattice.nodeRadiusMm[k];
      expect(Math.abs(lattice.nodeRadiusMm[0] - depthMm - radius)).toBeLessThan(ROUNDING);
      for (let v = 0; v < nodesPerLayer; v++) {
        at(graph.xyz, k * nodesPerLayer + v).forEach((x, i) => expect(Math.abs(x - radius * tiling.xyz[3 * v + i])).toBeLessThan(ROUNDING));
      }
    });
  });

  it('touches its circumscribed sphere with every node of layer 0 and never reaches out of it', () => {
    for (let v = 0; v < graph.nodeCount; v++) {
      const top = Math.hypot(...at(graph.xyz, v)) + graph.nodeRadius[v];
      if (v < nodesPerLayer) expect(Math.abs(top - ball.outsideDiameterMm / 2)).toBeLessThan(ROUNDING);
      else expect(top).toBeLessThan(ball.outsideDiameterMm / 2);
    }
  });

  it("repeats the tiling's edges in every layer and joins the layers node to node, each strut with its own diameter and role", () => {
    for (let s = 0; s < graph.strutCount; s++) {
      const k = Math.floor(s / strutsPerLayer);
      const ends = [...graph.ends.subarray(2 * s, 2 * s + 2)];
      const both = [...graph.diameters.subarray(2 * s, 2 * s + 2)];
      const role = graph.roleNames[graph.roles[s]];
      if (k < layers.length) {
        const e = s % strutsPerLayer;
        expect(ends).toEqual([tiling.edges[2 * e], tiling.edges[2 * e + 1]].map((v) => k * nodesPerLayer + v));
        expect(both).toEqual([layers[k].strutDiameterMm, layers[k].strutDiameterMm]);
        expect(role).toBe(`layer-${k}`);
      } else {
        const upper = s - layers.length * strutsPerLayer;
        expect(ends).toEqual([upper, upper + nodesPerLayer]);
        expect(both).toEqual([posts, posts]);
        expect(role).toBe('link');
      }
    }
  });

  it('has at each node half the largest diameter that ends there', () => {
    const largest = new Float64Array(graph.nodeCount);
    graph.ends.forEach((v, k) => {
      largest[v] = Math.max(largest[v], graph.diameters[k]);
    });
    largest.forEach((diameter, v) => expect(graph.nodeRadius[v]).toBe(diameter / 2));
  });

  it("has orbits that are whole orbits of the graph under the tiling's rotations, diameters included", () => {
    const { rotations, nodeOrbit, strutOrbit } = lattice.symmetry!;
    const find = finder(graph.xyz);
    const strutAt = new Map(Array.from({ length: graph.strutCount }, (_, s) => [nameOf(graph.ends[2 * s], graph.ends[2 * s + 1]), s]));
    const lowest = { node: nodeOrbit.map((_, v) => v), strut: strutOrbit.map((_, s) => s) };
    for (let g = 0; g < rotations.length; g += 9) {
      const image = Int32Array.from({ length: graph.nodeCount }, (_, v) => find(apply(rotations, at(graph.xyz, v), g)));
      for (let v = 0; v < graph.nodeCount; v++) lowest.node[v] = Math.min(lowest.node[v], image[v]);
      for (let s = 0; s < graph.strutCount; s++) {
        const other = strutAt.get(nameOf(image[graph.ends[2 * s]], image[graph.ends[2 * s + 1]]))!;
        expect(graph.diameters[2 * other]).toBe(graph.diameters[2 * s]);
        lowest.strut[s] = Math.min(lowest.strut[s], other);
      }
    }
    expect(nodeOrbit).toEqual(lowest.node);
    expect(strutOrbit).toEqual(lowest.strut);
  });

  it('has the rings of the tiling as its cells', () => {
    expect(lattice.cellCount).toBe(10 * T + 2);
    expect([lattice.cellPtr, lattice.cellNodes, lattice.cellStruts]).toEqual([tiling.cellPtr, tiling.cellNodes, tiling.cellEdges]);
  });
});

const nameOf = (a: number, b: number) => `${Math.min(a, b)}-${Math.max(a, b)}`;

describe('two layers with posts', () => {
  it('have 80T struts and 40T nodes', () => {
    const { graph } = latticeOf({ m: 3, n: 3, outsideDiameterMm: 162.3, layers: [layer(0, 4.2), layer(14, 3.6)], posts: 3.6 });
    expect([graph.strutCount, graph.nodeCount]).toEqual([80 * 27, 40 * 27]);
  });
});
