import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { front } from '../../../worker/engine/front/index.ts';

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
});
