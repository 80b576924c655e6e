import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { equalAreas, goldberg, type Tiling } from '../../../worker/engine/tiling/index.ts';
import { apply, at, cross, dot, finder, keeps, PAIRS, ringOf, type Vector } from './samples.ts';

/** Area of a cell on the unit sphere by its angles: their sum less (sides - 2) pi (Girard). */
function cellArea(tiling: Tiling, cell: number): number {
  const ring = ringOf(tiling, cell).map((v) => at(tiling.xyz, v));
  const sides = ring.length;
  return ring.reduce((sum, here, k) => sum + angleAt(here, ring[(k + 1) % sides], ring[(k + sides - 1) % sides]), -(sides - 2) * Math.PI);
}

/** Angle between the great circles from a point to two others. */
function angleAt(here: Vector, one: Vector, other: Vector): number {
  const [u, v] = [cross(here, one), cross(here, other)];
  return Math.atan2(Math.hypot(...cross(u, v)), dot(u, v));
}

const areas = (tiling: Tiling) => Array.from({ length: tiling.cellCount }, (_, cell) => cellArea(tiling, cell));
function unevenness(tiling: Tiling): number {
  const each = areas(tiling);
  const mean = each.reduce((sum, area) => sum + area, 0) / each.length;
  return Math.max(...each.map((area) => Math.abs(area / mean - 1)));
}

/**
 * Under the whole group, mirrors included, an orbit of 120 seeds may move two ways, one of 60 along its mirror, the others not at all; areas are to
 * be equal, one condition less than there are orbits.
 */
function freedoms(tiling: Tiling, mirrored: boolean): { moves: number; conditions: number } {
  const { cellOrbit } = tiling.symmetry;
  const find = finder(tiling.cellDirection);
  const orbit = Array.from(cellOrbit, (representative, c) => {
    if (!mirrored) return representative;
    const [x, y, z] = at(tiling.cellDirection, c);
    return Math.min(representative, cellOrbit[find([x, y, -z])]);
  });
  const sizes = new Map<number, number>();
  for (const each of orbit) sizes.set(each, (sizes.get(each) ?? 0) + 1);
  const free = mirrored ? 120 : 60;
  const ways = (size: number) => (size === free ? 2 : size === 60 ? 1 : 0);
  return { moves: [...sizes.values()].reduce((sum, size) => sum + ways(size), 0), conditions: sizes.size - 1 };
}

describe.each(PAIRS)('GP(%i,%i) with equal areas', (m, n) => {
  const plain = goldberg(m, n);
  const relaxed = equalAreas(plain);

  it('covers the sphere once', () => {
    // sums of 6 * 30T angles
    for (const tiling of [plain, relaxed])
      expect(Math.abs(areas(tiling).reduce((sum, area) => sum + area, 0) - 4 * Math.PI)).toBeLessThan(1e-11);
  });

  it('has cells of one area to 1e-9 where the symmetry leaves freedom enough, and reports what remains', () => {
    // a cell's area is a small difference of angles
    expect(Math.abs(unevenness(relaxed) - relaxed.relaxationResidual)).toBeLessThan(1e-10);
    const { moves, conditions } = freedoms(plain, m === 0 || n === 0 || m === n);
    if (moves >= conditions) expect(relaxed.relaxationResidual).toBeLessThan(1e-9);
    else expect(relaxed.relaxationResidual).toBeGreaterThan(1e-3);
    expect(relaxed.relaxationResidual).toBeLessThanOrEqual(unevenness(plain) + 1e-10);
  });

  it('keeps its symmetry, and the rule that a corner is the middle of its three seeds', () => {
    for (let g = 0; g < 540; g += 9) expect(keeps(relaxed, (v) => apply(plain.symmetry.rotations, v, g))).toBe(true);
    expect(keeps(relaxed, ([x, y, z]) => [x, y, -z])).toBe(m === 0 || n === 0 || m === n);
    const seedsAt = Array.from({ length: relaxed.nodeCount }, () => [0, 0, 0]);
    for (let c = 0; c < relaxed.cellCount; c++)
      for (const v of ringOf(relaxed, c)) for (let i = 0; i < 3; i++) seedsAt[v][i] += relaxed.cellDirection[3 * c + i];
    seedsAt.forEach((sum, v) => {
      const length = Math.hypot(...sum);
      sum.forEach((x, i) => expect(Math.abs(x / length - relaxed.xyz[3 * v + i])).toBeLessThan(1e-14));
    });
    for (let c = 0; c < relaxed.cellCount; c++) expect(Math.abs(Math.hypot(...at(relaxed.cellDirection, c)) - 1)).toBeLessThan(1e-14);
  });

  it('is a fixed point, and leaves its input alone', () => {
    expect(plain.xyz).toEqual(goldberg(m, n).xyz);
    const again = equalAreas(relaxed);
    // the last step was shorter than 1e-12; the next is no longer
    expect(Math.max(...again.xyz.map((x, k) => Math.abs(x - relaxed.xyz[k])))).toBeLessThan(2e-12);
  });
});

describe('the minimum-norm steps', () => {
  it('on one seed and cell of each orbit go where those on the whole GP(3,0) go, although areas remain that differ', () => {
    const plain = goldberg(3, 0);
    const whole = wholeRelaxation(plain);
    const apart = Math.max(...equalAreas(plain).cellDirection.map((x, k) => Math.abs(x - whole[k])));
    // slopes by central differences are good to 1e-9 of an area's
    expect(apart).toBeLessThan(1e-7);
    // orbits of different size weigh differently in what remains: without that the seeds would end elsewhere by far more
    expect(Math.max(...plain.cellDirection.map((x, k) => Math.abs(x - whole[k])))).toBeGreaterThan(1e-3);
  });
});

/** The plain construction's corners for given seeds. */
function withSeeds(tiling: Tiling, seeds: Float64Array): Tiling {
  const xyz = new Float64Array(3 * tiling.nodeCount);
  for (let c = 0; c < tiling.cellCount; c++)
    for (const v of ringOf(tiling, c)) for (let i = 0; i < 3; i++) xyz[3 * v + i] += seeds[3 * c + i];
  for (let v = 0; v < tiling.nodeCount; v++) {
    const length = Math.hypot(...at(xyz, v));
    for (let i = 0; i < 3; i++) xyz[3 * v + i] /= length;
  }
  return { ...tiling, xyz };
}

/** Gauss-Newton on area / mean - 1 over tangent displacements of all seeds: x = -J^T (J J^T)^+ r, slopes by central differences, no symmetry used. */
function wholeRelaxation(tiling: Tiling): Float64Array {
  const { cellCount } = tiling;
  const seeds = Float64Array.from(tiling.cellDirection);
  const mean = (4 * Math.PI) / cellCount;
  for (let step = 0; step < 30; step++) {
    const residual = areas(withSeeds(tiling, seeds)).map((area) => area / mean - 1);
    const tangents = Array.from({ length: cellCount }, (_, c): Vector[] => {
      const p = at(seeds, c);
      const u = cross(p, Math.abs(p[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0]);
      const unit = u.map((x) => x / Math.hypot(...u)) as unknown as Vector;
      return [unit, cross(p, unit)];
    });
    const jacobian = Matrix.zeros(cellCount, 2 * cellCount);
    tangents.forEach((both, c) => {
      both.forEach((tangent, t) => {
        const shifted = [1e-5, -1e-5].map((h) => {
          const moved = Float64Array.from(seeds);
          const p = at(seeds, c).map((x, i) => x + h * tangent[i]);
          p.forEach((x, i) => {
            moved[3 * c + i] = x / Math.hypot(...p);
          });
          return areas(withSeeds(tiling, moved));
        });
        for (let q = 0; q < cellCount; q++) jacobian.set(q, 2 * c + t, (shifted[0][q] - shifted[1][q]) / (2e-5 * mean));
      });
    });
    const { realEigenvalues, eigenvectorMatrix: vectors } = new EigenvalueDecomposition(jacobian.mmul(jacobian.transpose()), {
      assumeSymmetric: true,
    });
    const along = vectors.transpose().mmul(Matrix.columnVector(residual));
    // central differences leave 1e-9 of a slope in the null space, whose square is far below this
    const limit = 1e-11 * Math.max(...realEigenvalues);
    realEigenvalues.forEach((value, k) => along.set(k, 0, value > limit ? along.get(k, 0) / value : 0));
    const move = jacobian.transpose().mmul(vectors.mmul(along));
    let longest = 0;
    for (let c = 0; c < cellCount; c++) {
      const p = at(seeds, c).map((x, i) => x - move.get(2 * c, 0) * tangents[c][0][i] - move.get(2 * c + 1, 0) * tangents[c][1][i]);
      longest = Math.max(longest, Math.hypot(move.get(2 * c, 0), move.get(2 * c + 1, 0)));
      p.forEach((x, i) => {
        seeds[3 * c + i] = x / Math.hypot(...p);
      });
    }
    if (longest < 1e-9) break;
  }
  return seeds;
}
