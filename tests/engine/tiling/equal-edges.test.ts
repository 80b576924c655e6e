import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { edgeLengths, equalEdges, goldberg, type Tiling } from '../../../worker/engine/tiling/index.ts';
import { apply, at, keeps, PAIRS, type Vector } from './samples.ts';

/** Largest |L / mean - 1|, from the coordinates. */
function unevenness(tiling: Tiling): number {
  const lengths = edgeLengths(tiling);
  const mean = lengths.reduce((sum, length) => sum + length, 0) / lengths.length;
  return Math.max(...lengths.map((length) => Math.abs(length / mean - 1)));
}
const furthest = (a: Tiling, b: Tiling) => Math.max(...a.xyz.map((x, k) => Math.abs(x - b.xyz[k])));
/** All (m, n), m >= n, up to a T. */
const upTo = (most: number) =>
  Array.from({ length: 20 }, (_, m) => Array.from({ length: m + 1 }, (_, n) => [m, n] as const))
    .flat()
    .filter(([m, n]) => m > 0 && (m + n) ** 2 - m * n <= most);

describe('equal edges', () => {
  it('are reached to 1e-9 by every tiling up to T = 64', () => {
    for (const [m, n] of upTo(64)) {
      const relaxed = equalEdges(goldberg(m, n));
      expect(unevenness(relaxed), `GP(${m},${n})`).toBeLessThan(1e-9);
    }
  });

  it.each([
    [20, 0],
    [11, 11],
    [9, 13],
  ])('are reached to 1e-9 by GP(%i,%i)', (m, n) => expect(unevenness(equalEdges(goldberg(m, n)))).toBeLessThan(1e-9));

  it('of GP(1,1) are those of the truncated icosahedron, 0.403548 of its radius', () => {
    const side = edgeLengths(equalEdges(goldberg(1, 1)))[0];
    // closed form 4 / sqrt(58 + 18 sqrt 5); iteration stops at steps of 1e-12
    expect(Math.abs(side - 4 / Math.sqrt(58 + 18 * Math.sqrt(5)))).toBeLessThan(1e-12);
    expect(side.toFixed(6)).toBe('0.403548');
  });
});

describe.each(PAIRS)('GP(%i,%i) relaxed', (m, n) => {
  const plain = goldberg(m, n);
  const before = Float64Array.from(plain.xyz);
  const relaxed = equalEdges(plain);

  it('reports the residual that its coordinates have', () => {
    // two sums of the same numbers
    expect(Math.abs(relaxed.relaxationResidual - unevenness(relaxed))).toBeLessThan(1e-14);
    expect(plain.relaxationResidual).toBe(0);
    expect(plain.xyz).toEqual(before);
  });

  it('is still the same net on the unit sphere, with the same symmetry, mirrors included', () => {
    expect(relaxed.edges).toEqual(plain.edges);
    for (let v = 0; v < relaxed.nodeCount; v++) expect(Math.abs(Math.hypot(...at(relaxed.xyz, v)) - 1)).toBeLessThan(1e-14);
    for (let g = 0; g < 540; g += 9) expect(keeps(relaxed, (v) => apply(plain.symmetry.rotations, v, g))).toBe(true);
    const mirrored = ([x, y, z]: Vector): Vector => [x, y, -z];
    expect(keeps(relaxed, mirrored)).toBe(m === 0 || n === 0 || m === n);
  });

  it('is a fixed point', () => {
    // the last step was shorter than 1e-12; the next is no longer
    expect(furthest(equalEdges(relaxed), relaxed)).toBeLessThan(1e-12);
  });
});

describe('the minimum-norm steps', () => {
  it.each([
    [1, 1],
    [2, 0],
    [2, 1],
  ])('on one node and edge of each orbit go where those on the whole GP(%i,%i) go', (m, n) => {
    const plain = goldberg(m, n);
    // two iterations to steps of 1e-12, the whole one with condition numbers of some hundreds
    expect(furthest(equalEdges(plain), wholeRelaxation(plain))).toBeLessThan(1e-10);
  });
});

/** Gauss-Newton on L / mean(L) - 1 over all tangent displacements of all nodes: x = -J^T (J J^T)^+ r, no use of symmetry. */
function wholeRelaxation(tiling: Tiling): Tiling {
  const { edges, edgeCount, nodeCount } = tiling;
  const xyz = Float64Array.from(tiling.xyz);
  for (let step = 0; step < 20; step++) {
    const lengths = edgeLengths({ ...tiling, xyz });
    const mean = lengths.reduce((sum, length) => sum + length, 0) / edgeCount;
    const slopes = Matrix.zeros(edgeCount, 3 * nodeCount);
    for (let e = 0; e < edgeCount; e++) {
      const [a, b] = [edges[2 * e], edges[2 * e + 1]];
      for (const [node, other] of [
        [a, b],
        [b, a],
      ]) {
        const p = at(xyz, node);
        const pull = at(xyz, other).map((x, i) => (p[i] - x) / lengths[e]);
        const outwards = pull.reduce((sum, x, i) => sum + x * p[i], 0);
        pull.forEach((x, i) => slopes.set(e, 3 * node + i, x - outwards * p[i]));
      }
    }
    const meanSlope = slopes.mean('column');
    const jacobian = new Matrix(slopes.to2DArray().map((row, e) => row.map((x, k) => (x - (lengths[e] / mean) * meanSlope[k]) / mean)));
    const { realEigenvalues, eigenvectorMatrix: vectors } = new EigenvalueDecomposition(jacobian.mmul(jacobian.transpose()), {
      assumeSymmetric: true,
    });
    const along = vectors.transpose().mmul(Matrix.columnVector(lengths.map((length) => length / mean - 1)));
    const limit = 1e-11 * Math.max(...realEigenvalues);
    realEigenvalues.forEach((value, k) => along.set(k, 0, value > limit ? along.get(k, 0) / value : 0));
    const move = jacobian.transpose().mmul(vectors.mmul(along));
    let longest = 0;
    for (let v = 0; v < nodeCount; v++) {
      const p = at(xyz, v).map((x, i) => x - move.get(3 * v + i, 0));
      longest = Math.max(longest, Math.hypot(...[0, 1, 2].map((i) => move.get(3 * v + i, 0))));
      const length = Math.hypot(...p);
      p.forEach((x, i) => {
        xyz[3 * v + i] = x / length;
      });
    }
    if (longest < 1e-12) break;
  }
  return { ...tiling, xyz };
}
