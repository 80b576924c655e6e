import { describe, expect, it } from 'vitest';
import { equalEdges, goldberg, orient, type Tiling } from '../../../worker/engine/tiling/index.ts';
import { apply, at, edgeName, edgeNames, images, keeps, PAIRS } from './samples.ts';

const matrices = ({ symmetry: { rotations } }: Tiling) =>
  Array.from({ length: rotations.length / 9 }, (_, g) => rotations.subarray(9 * g, 9 * g + 9));
const orbitSizes = (orbit: Int32Array) => {
  const sizes = new Map<number, number>();
  for (const representative of orbit) sizes.set(representative, (sizes.get(representative) ?? 0) + 1);
  return sizes;
};

describe('the rotation group', () => {
  const group = matrices(goldberg(1, 0));
  /** Entries are cosines and golden ratios: rounding stays below this. */
  const name = (g: ArrayLike<number>) => Array.from(g, (x) => Math.round(1e6 * x) + 0).join();

  it('has sixty proper rotations, the identity first, and holds all their products', () => {
    expect(group).toHaveLength(60);
    expect(name(group[0])).toBe('1000000,0,0,0,1000000,0,0,0,1000000');
    const names = new Set(group.map(name));
    expect(names.size).toBe(60);
    for (const a of group) {
      const [p, q, r] = [0, 1, 2].map((i) => at(a, i));
      const determinant = p[0] * (q[1] * r[2] - q[2] * r[1]) - p[1] * (q[0] * r[2] - q[2] * r[0]) + p[2] * (q[0] * r[1] - q[1] * r[0]);
      expect(Math.abs(determinant - 1)).toBeLessThan(1e-13);
      for (const b of group) {
        const columns = [0, 1, 2].map((j) => apply(a, [b[j], b[3 + j], b[6 + j]]));
        expect(names.has(name([0, 1, 2].flatMap((i) => columns.map((column) => column[i]))))).toBe(true);
      }
    }
  });
});

describe.each(PAIRS)('GP(%i,%i)', (m, n) => {
  const tiling = goldberg(m, n);
  const { nodeOrbit, nodeRotation, edgeOrbit } = tiling.symmetry;

  it('is carried onto itself, nodes and edges, by all sixty rotations', () => {
    for (const g of matrices(tiling)) expect(keeps(tiling, (v) => apply(g, v))).toBe(true);
  });

  it('has as orbits exactly the images of one node and of one edge, named by the lowest index', () => {
    const maps = matrices(tiling).map((g) => images(tiling, (v) => apply(g, v)));
    const edgeIndex = new Map(edgeNames(tiling).map((name, e) => [name, e]));
    for (let v = 0; v < tiling.nodeCount; v++) expect(nodeOrbit[v]).toBe(Math.min(...maps.map((image) => image[v])));
    for (let e = 0; e < tiling.edgeCount; e++) {
      const [a, b] = [tiling.edges[2 * e], tiling.edges[2 * e + 1]];
      expect(edgeOrbit[e]).toBe(Math.min(...maps.map((image) => edgeIndex.get(edgeName(image[a], image[b]))!)));
    }
  });

  it('remembers a rotation that carries the representative to each node', () => {
    for (let v = 0; v < tiling.nodeCount; v++) {
      const image = apply(tiling.symmetry.rotations, at(tiling.xyz, nodeOrbit[v]), 9 * nodeRotation[v]);
      // a rotation of a unit vector loses a few units of the last place
      image.forEach((x, i) => expect(Math.abs(x - tiling.xyz[3 * v + i])).toBeLessThan(1e-14));
    }
  });

  it('has nodes in sixties, but for the twenty on three-fold axes when 3 does not divide T; edges in sixties or thirties', () => {
    const nodes = [...orbitSizes(nodeOrbit).values()];
    expect(nodes.filter((size) => size === 20)).toHaveLength(tiling.T % 3);
    expect(nodes.filter((size) => size === 60)).toHaveLength((tiling.T - (tiling.T % 3)) / 3);
    for (const size of orbitSizes(edgeOrbit).values()) expect([30, 60]).toContain(size);
  });

  it('keeps its orbits when it is relaxed and turned', () => {
    for (const orientation of ['pentagon-up', 'hexagon-up'] as const) {
      const turned = orient(equalEdges(tiling), orientation);
      for (const g of matrices(turned).slice(1, 4)) expect(keeps(turned, (v) => apply(g, v))).toBe(true);
      for (let v = 0; v < turned.nodeCount; v++) {
        const image = apply(turned.symmetry.rotations, at(turned.xyz, turned.symmetry.nodeOrbit[v]), 9 * turned.symmetry.nodeRotation[v]);
        image.forEach((x, i) => expect(Math.abs(x - turned.xyz[3 * v + i])).toBeLessThan(1e-13));
      }
    }
  });
});
