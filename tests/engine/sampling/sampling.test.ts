import { describe, expect, it } from 'vitest';
import { gridPoint, gridSize, latinHypercubePoint, MOST_DIMENSIONS, sobolPoint } from '../../../worker/engine/sampling/index.ts';

describe('a full grid', () => {
  it('has every combination once, the last axis running fastest', () => {
    const counts = [3, 1, 4];
    const points = Array.from({ length: gridSize(counts) }, (_, k) => gridPoint(k, counts).join());
    expect(points.slice(0, 5)).toEqual(['0,0,0', '0,0,1', '0,0,2', '0,0,3', '1,0,0']);
    expect(new Set(points).size).toBe(12);
    expect(points.at(-1)).toBe('2,0,3');
  });
});

describe('a Latin hypercube', () => {
  it.each([
    [1, 1],
    [7, 3],
    [256, 4],
    [1000, 5],
  ])('of %i points has one in each slice of each of %i axes', (points, dimensions) => {
    const all = Array.from({ length: points }, (_, k) => latinHypercubePoint(k, dimensions, { points, seed: 5 }));
    for (let axis = 0; axis < dimensions; axis++) {
      expect(new Set(all.map((point) => Math.floor(point[axis] * points))).size).toBe(points);
    }
  });

  it('is another one for another seed, and its axes are not alike', () => {
    const of = (seed: number) => Array.from({ length: 200 }, (_, k) => latinHypercubePoint(k, 2, { points: 200, seed }));
    const [one, other] = [of(1), of(2)];
    expect(one).not.toEqual(other);
    expect(of(1)).toEqual(one);
    const mean = (values: number[]) => values.reduce((sum, x) => sum + x, 0) / values.length;
    const correlation = mean(one.map(([x, y]) => 12 * (x - 0.5) * (y - 0.5)));
    // of independent axes it strays by 1/sqrt(200): three times that
    expect(Math.abs(correlation)).toBeLessThan(3 / Math.sqrt(200));
  });
});

describe('the Sobol sequence', () => {
  it('is that of an independent implementation in all dimensions [SciPy 1.17.1, qmc.Sobol(21, scramble=False); status: computed beside]', () => {
    expect([...sobolPoint(5, 21)]).toEqual([
      0.875, 0.875, 0.125, 0.375, 0.875, 0.625, 0.875, 0.375, 0.375, 0.125, 0.375, 0.875, 0.875, 0.125, 0.875, 0.375, 0.875, 0.375, 0.375,
      0.625, 0.625,
    ]);
    expect([...sobolPoint(1000, 21)]).toEqual([
      0.2197265625, 0.0966796875, 0.5185546875, 0.6767578125, 0.2802734375, 0.9072265625, 0.0458984375, 0.8994140625, 0.5009765625,
      0.0693359375, 0.0849609375, 0.2548828125, 0.1611328125, 0.3837890625, 0.1435546875, 0.3701171875, 0.7197265625, 0.3447265625,
      0.9912109375, 0.7255859375, 0.5224609375,
    ]);
  });

  it('puts one of its first 1024 points in each slice of each axis', () => {
    const all = Array.from({ length: 1024 }, (_, k) => sobolPoint(k, MOST_DIMENSIONS));
    for (let axis = 0; axis < MOST_DIMENSIONS; axis++) expect(new Set(all.map((point) => Math.floor(1024 * point[axis]))).size).toBe(1024);
  });

  it('fills the boxes of any two of its first dimensions evenly: a net of 16 boxes of 4 x 4', () => {
    const boxes = new Set(
      Array.from({ length: 16 }, (_, k) => sobolPoint(k, 2)).map(([x, y]) => `${Math.floor(4 * x)},${Math.floor(4 * y)}`),
    );
    expect(boxes.size).toBe(16);
  });

  it('refuses more dimensions than there are direction numbers for', () => {
    expect(() => sobolPoint(1, MOST_DIMENSIONS + 1)).toThrow('22 dimensions; allowed: 1 to 21');
  });
});
