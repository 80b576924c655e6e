import { describe, expect, it } from 'vitest';
import { edgeLengths, goldberg, orient, statistics, type Tiling } from '../../../worker/engine/tiling/index.ts';
import { at, cross, dot, keeps, PAIRS, ringOf, type Vector } from './samples.ts';

/** Rotations of unit vectors: a few units of the last place. */
const ROUNDING = 1e-14;
const cellAtTop = ({ cellDirection, cellCount }: Tiling) =>
  Array.from({ length: cellCount }, (_, c) => c).find((c) => cellDirection[3 * c + 2] > 1 - 1e-12);
const spin =
  (angle: number) =>
  ([x, y, z]: Vector): Vector => [Math.cos(angle) * x - Math.sin(angle) * y, Math.sin(angle) * x + Math.cos(angle) * y, z];

describe.each(PAIRS)('GP(%i,%i)', (m, n) => {
  const plain = goldberg(m, n);
  const achiral = m === 0 || n === 0 || m === n;

  it('split-plane: z = 0 is a mirror in classes I and II; in class III half turns about x and y swap the halves', () => {
    const tiling = orient(plain, 'split-plane');
    expect(keeps(tiling, ([x, y, z]) => [x, y, -z])).toBe(achiral);
    expect(keeps(tiling, ([x, y, z]) => [x, -y, -z])).toBe(true);
    expect(keeps(tiling, ([x, y, z]) => [-x, y, -z])).toBe(true);
  });

  it('split-plane: as many nodes and as much edge above z = 0 as below', () => {
    const { xyz, edges, nodeCount } = orient(plain, 'split-plane');
    const nodes = { above: 0, below: 0 };
    for (let v = 0; v < nodeCount; v++) if (Math.abs(xyz[3 * v + 2]) > 1e-9) nodes[xyz[3 * v + 2] > 0 ? 'above' : 'below']++;
    expect(nodes.above).toBe(nodes.below);
    let balance = 0;
    edgeLengths(plain).forEach((length, e) => {
      const [a, b] = [xyz[3 * edges[2 * e] + 2], xyz[3 * edges[2 * e + 1] + 2]];
      if (a !== 0 || b !== 0) balance += (length * (a + b)) / (Math.abs(a) + Math.abs(b));
    });
    // a sum of 30T lengths below 1 of either sign
    expect(Math.abs(balance)).toBeLessThan(1e-12);
  });

  it('pentagon-up: a pentagon lies level around +z', () => {
    const tiling = orient(plain, 'pentagon-up');
    const top = cellAtTop(tiling)!;
    const ring = ringOf(tiling, top).map((v) => at(tiling.xyz, v));
    expect(ring).toHaveLength(5);
    for (const [, , z] of ring) expect(Math.abs(z - ring[0][2])).toBeLessThan(ROUNDING);
    expect(keeps(tiling, spin((2 * Math.PI) / 5))).toBe(true);
  });

  it('hexagon-up: a hexagon where there is one, on the three-fold axis when 3 divides T, else the cell nearest to that axis', () => {
    const tiling = orient(plain, 'hexagon-up');
    const top = cellAtTop(tiling)!;
    expect(ringOf(tiling, top)).toHaveLength(tiling.T === 1 ? 5 : 6);
    expect(keeps(tiling, spin((2 * Math.PI) / 3))).toBe(tiling.T % 3 === 0);
    // the angle to the three-fold axis next to it is the least of all cells
    const axis: Vector = [1 / Math.sqrt(3), 1 / Math.sqrt(3), 1 / Math.sqrt(3)];
    const nearest = Math.max(...Array.from({ length: plain.cellCount }, (_, c) => dot(at(plain.cellDirection, c), axis)));
    expect(Math.abs(dot(at(plain.cellDirection, top), axis) - nearest)).toBeLessThan(ROUNDING);
  });

  it.each(['pentagon-up', 'hexagon-up'] as const)('%s is a proper rotation of nodes and seeds together', (orientation) => {
    const turned = orient(plain, orientation);
    const images = (tiling: Tiling) => [at(tiling.xyz, 0), at(tiling.xyz, 7), at(tiling.cellDirection, 3)];
    const [a, b, c] = images(plain);
    const [p, q, r] = images(turned);
    for (const [one, other] of [
      [dot(a, b), dot(p, q)],
      [dot(a, c), dot(p, r)],
      [dot(cross(a, b), c), dot(cross(p, q), r)],
    ])
      expect(Math.abs(one - other)).toBeLessThan(ROUNDING);
    expect(statistics(turned).distinctLengths).toBe(statistics(plain).distinctLengths);
  });
});

describe('edges across z = 0', () => {
  it.each(PAIRS)('of GP(%i,%i) are those whose ends have heights of different sign', (m, n) => {
    for (const orientation of ['split-plane', 'pentagon-up'] as const) {
      const tiling = orient(goldberg(m, n), orientation);
      expect(statistics(tiling).edgesAcrossSplitPlane).toBe(countAcross(tiling));
    }
  });

  it('are two in a dodecahedron on a two-fold axis, and the ten between its belt of nodes when a pentagon is up', () => {
    expect(statistics(orient(goldberg(1, 0), 'split-plane')).edgesAcrossSplitPlane).toBe(2);
    expect(statistics(orient(goldberg(1, 0), 'pentagon-up')).edgesAcrossSplitPlane).toBe(10);
  });
});

function countAcross({ xyz, edges, edgeCount }: Tiling): number {
  let count = 0;
  for (let e = 0; e < edgeCount; e++) if (xyz[3 * edges[2 * e] + 2] * xyz[3 * edges[2 * e + 1] + 2] < -1e-9) count++;
  return count;
}
