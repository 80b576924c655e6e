import { describe, expect, it } from 'vitest';
import { goldberg } from '../../../worker/engine/tiling/index.ts';
import { at, cross, dot, edgeName, edgeNames, finder, keeps, PAIRS, ringOf, type Vector } from './samples.ts';

/** Coordinates of unit vectors carry a few units of the last place; angles of regular pentagons lose a digit or two. */
const ROUNDING = 1e-14;
const mirror = ([x, y, z]: Vector): Vector => [-x, y, z];
const through = ([x, y, z]: Vector): Vector => [-x, -y, -z];

describe.each(PAIRS)('GP(%i,%i)', (m, n) => {
  const tiling = goldberg(m, n);
  const { nodeCount, edgeCount, cellCount, edges, xyz, cellPtr, cellNodes, cellEdges, cellDirection } = tiling;
  const T = (m + n) ** 2 - m * n;

  it('has 20T nodes, 30T edges and 10T + 2 cells, so that V - E + F = 2', () => {
    expect(tiling.T).toBe(T);
    expect([nodeCount, edgeCount, cellCount]).toEqual([20 * T, 30 * T, 10 * T + 2]);
    expect([xyz.length, edges.length, cellDirection.length]).toEqual([3 * nodeCount, 2 * edgeCount, 3 * cellCount]);
    expect(nodeCount - edgeCount + cellCount).toBe(2);
  });

  it('has twelve regular pentagons, which come first, and hexagons', () => {
    for (let c = 0; c < cellCount; c++) expect(cellPtr[c + 1] - cellPtr[c]).toBe(c < 12 ? 5 : 6);
    for (let c = 0; c < 12; c++) {
      const ring = ringOf(tiling, c).map((v) => at(xyz, v));
      const sides = ring.map((v, k) => Math.hypot(...v.map((x, i) => x - ring[(k + 1) % 5][i])));
      const diagonals = ring.map((v, k) => Math.hypot(...v.map((x, i) => x - ring[(k + 2) % 5][i])));
      for (const side of sides) expect(Math.abs(side - sides[0])).toBeLessThan(ROUNDING);
      // the diagonal of a regular pentagon is the golden section of its side
      for (const diagonal of diagonals) expect(Math.abs(diagonal / sides[0] - (1 + Math.sqrt(5)) / 2)).toBeLessThan(100 * ROUNDING);
    }
  });

  it('joins three different edges at every node, none twice', () => {
    const valence = new Int32Array(nodeCount);
    for (const v of edges) valence[v]++;
    expect(valence.every((count) => count === 3)).toBe(true);
    expect(new Set(edgeNames(tiling)).size).toBe(edgeCount);
    for (let e = 0; e < edgeCount; e++) expect(edges[2 * e]).not.toBe(edges[2 * e + 1]);
  });

  it('puts every node on the unit sphere, in the middle of its three cells', () => {
    const cellsAt = Array.from({ length: nodeCount }, () => [] as number[]);
    for (let c = 0; c < cellCount; c++) for (const v of ringOf(tiling, c)) cellsAt[v].push(c);
    for (let v = 0; v < nodeCount; v++) {
      expect(Math.abs(Math.hypot(...at(xyz, v)) - 1)).toBeLessThan(ROUNDING);
      expect(cellsAt[v]).toHaveLength(3);
      const sum = [0, 1, 2].map((i) => cellsAt[v].reduce((total, c) => total + cellDirection[3 * c + i], 0));
      const length = Math.hypot(...sum);
      sum.forEach((x, i) => expect(Math.abs(x / length - xyz[3 * v + i])).toBeLessThan(ROUNDING));
    }
  });

  it('walks every ring counter-clockwise seen from outside, along edges, each edge once in either direction', () => {
    const walked = new Set<string>();
    for (let c = 0; c < cellCount; c++) {
      const ring = ringOf(tiling, c);
      ring.forEach((v, k) => {
        const next = ring[(k + 1) % ring.length];
        const edge = cellEdges[cellPtr[c] + k];
        expect(edgeName(edges[2 * edge], edges[2 * edge + 1])).toBe(edgeName(v, next));
        expect(dot(cross(at(xyz, v), at(xyz, next)), at(cellDirection, c))).toBeGreaterThan(0);
        walked.add(`${v}>${next}`);
      });
    }
    expect(cellNodes).toHaveLength(2 * edgeCount);
    expect(walked.size).toBe(2 * edgeCount);
  });

  it('has a mirror twin GP(n,m), and is its own in classes I and II alone', () => {
    const twin = goldberg(n, m);
    const find = finder(twin.xyz);
    const image = Array.from({ length: nodeCount }, (_, v) => find(mirror(at(xyz, v))));
    expect(new Set(image).size).toBe(nodeCount);
    expect(image).not.toContain(-1);
    const achiral = m === 0 || n === 0 || m === n;
    expect(keeps(tiling, mirror)).toBe(achiral);
    expect(keeps(tiling, through)).toBe(achiral);
  });
});

describe('the largest tilings', () => {
  it.each([
    [20, 0, 400],
    [0, 20, 400],
    [11, 11, 363],
    [13, 9, 367],
  ])('GP(%i,%i): T = %i, all rings closed, three edges at every node', (m, n, T) => {
    const { nodeCount, edgeCount, cellCount, cellPtr, edges } = goldberg(m, n);
    expect([nodeCount, edgeCount, cellCount, cellPtr[cellCount]]).toEqual([20 * T, 30 * T, 10 * T + 2, 60 * T]);
    const valence = new Int32Array(nodeCount);
    for (const v of edges) valence[v]++;
    expect(valence.every((count) => count === 3)).toBe(true);
  });
});
