import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unbeaten } from '../../api/dashboard/unbeaten.ts';

const points = fc.array(fc.tuple(fc.integer({ min: 0, max: 9 }), fc.integer({ min: 0, max: 9 })), { maxLength: 30 });
const sign = fc.constantFrom(1 as const, -1 as const);

describe('what nothing beats in both', () => {
  it('is, values for values, what its definition gives by comparing all with all', () => {
    fc.assert(
      fc.property(points, sign, sign, (pairs, signX, signY) => {
        const all = pairs.map(([x, y], k) => ({ each: { id: String(k) }, x, y }));
        const beats = (a: (typeof all)[0], b: (typeof all)[0]) =>
          signX * a.x <= signX * b.x && signY * a.y <= signY * b.y && (a.x !== b.x || a.y !== b.y);
        const wanted = all.filter((each) => !all.some((other) => beats(other, each))).map(({ x, y }) => `${x} ${y}`);
        const found = all.filter(({ each }) => unbeaten(all, signX, signY).has(each.id)).map(({ x, y }) => `${x} ${y}`);
        // of equal points one is named
        expect(found.sort()).toEqual([...new Set(wanted)].sort());
      }),
    );
  });
});
