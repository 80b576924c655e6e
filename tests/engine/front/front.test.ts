import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { front } from '../../../worker/engine/front/index.ts';
import { deviates } from '../../../worker/engine/probability/index.ts';

const dominates = (a: readonly number[], b: readonly number[]) => a.every((each, j) => each <= b[j]) && a.some((each, j) => each < b[j]);

describe('the front', () => {
  // few values, so that most points share coordinates and many are equal
  it.each([1, 2, 3, 4, 5])('of %i quantities is what comparing all with all leaves, all of equal points with it', (k) => {
    const points = fc.array(fc.array(fc.integer({ min: 0, max: 4 }), { minLength: k, maxLength: k }), { maxLength: 80 });
    fc.assert(
      fc.property(points, (all) => {
        const wanted = [...all.keys()].filter((i) => !all.some((other) => dominates(other, all[i])));
        expect(front(all)).toEqual(wanted);
      }),
      { numRuns: 200 },
    );
  });

  // many points that differ, so that none of the ways through the algorithm is left to comparing all with all
  it.each([2, 3, 4, 5])('of %i quantities is so among many points, with many equal coordinates', (k) => {
    const { uniform } = deviates(k, 1);
    const most = 3 + Math.ceil(900 ** (1 / (k - 1)));
    const all = Array.from({ length: 900 }, () => {
      // about a plane, where most points are beaten by none
      const point = Array.from({ length: k }, () => Math.floor(most * uniform()));
      point[k - 1] += 2 * most - point.reduce((sum, each) => sum + each, 0) + Math.floor(2 * uniform());
      return point;
    });
    const wanted = [...all.keys()].filter((i) => !all.some((other) => dominates(other, all[i])));
    expect(wanted.length).toBeGreaterThan(100);
    expect(front(all)).toEqual(wanted);
  });
});
