import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FILTERABLE } from '../../openapi/index.ts';
import { compareTargets, SHORT_NAMES, type Target } from '../../worker/engine/targets.ts';

const result = {
  massProperties: { massG: 300 },
  geometry: { cellOpeningMm: [{ min: 9 }, { min: 7 }, { min: 8 }], strutLengthMm: { mean: 0 } },
  rebound: null,
  list: [{ a: [1] }, { a: 2 }, null, { b: 3 }],
};
const compare = (target: Target) => compareTargets(result, [target])[0];
const mass = (limits: Omit<Target, 'quantity'>) => compare({ quantity: 'massG', ...limits });

describe('short names', () => {
  it('stand for the paths that history filters on', () => {
    const plain = Object.fromEntries(Object.entries(FILTERABLE).filter(([name]) => !name.includes('.')));
    expect(SHORT_NAMES).toEqual(plain);
    // the names with dots are their own paths
    for (const [name, path] of Object.entries(FILTERABLE)) if (name.includes('.')) expect(path).toBe(name);
  });
});

describe('a band', () => {
  const number = fc.double({ min: -1000, max: 1000, noNaN: true });
  it('holds a value exactly when it lies between its limits, and tells the distance outside over the target or the middle', () => {
    fc.assert(
      fc.property(number, number, number, (value, one, other) => {
        const [min, max] = [Math.min(one, other), Math.max(one, other)];
        const [found] = compareTargets({ x: value }, [{ quantity: 'x', min, max }]);
        expect(found.within).toBe(value >= min && value <= max);
        const outside = value < min ? min - value : value > max ? value - max : 0;
        const middle = Math.abs((min + max) / 2) || 1;
        expect(found.missPct).toBeCloseTo((100 * outside) / middle, 6);
        expect(found).toMatchObject({ quantity: 'x', value, min, max, target: null });
      }),
      { seed: 3 },
    );
  });

  it('measures the miss by the target where one is given', () => {
    expect(mass({ min: 307, target: 310, max: 313 })).toEqual({
      quantity: 'massG',
      target: 310,
      min: 307,
      max: 313,
      value: 300,
      within: false,
      missPct: (100 * 7) / 310,
    });
    expect(mass({ min: 290, target: 310, max: 330 })).toMatchObject({ within: true, missPct: 0 });
  });

  it('may be open on one side: the miss is then measured by the only limit', () => {
    expect(mass({ max: 250 })).toMatchObject({ within: false, missPct: 20, min: null });
    expect(mass({ max: 300 })).toMatchObject({ within: true, missPct: 0 });
    expect(mass({ min: 400 })).toMatchObject({ within: false, missPct: 25, max: null });
  });

  it('without limits has no width', () => {
    expect(mass({ target: 300 })).toMatchObject({ within: true, missPct: 0 });
    expect(mass({ target: 240 })).toMatchObject({ within: false, missPct: 25 });
  });
});

describe('the number a target names', () => {
  it('is found by short name and by dotted path', () => {
    expect(compare({ quantity: 'massProperties.massG', max: 1 }).value).toBe(300);
    expect(compare({ quantity: 'geometry.strutLengthMm.mean', max: 1 }).value).toBe(0);
    expect(compare({ quantity: 'geometry.cellOpeningMm.1.min', max: 1 }).value).toBe(7);
  });

  it('is the least over a list', () => {
    expect(compare({ quantity: 'minCellOpeningMm', min: 8 })).toMatchObject({ value: 7, within: false });
    expect(compare({ quantity: 'list.a', max: 9 }).value).toBe(2);
  });

  it('is null, neither met nor missed, where the result holds none', () => {
    for (const quantity of [
      'reboundHeightMm',
      'geometry',
      'geometry.nothing',
      'massProperties.massG.deeper',
      'constructor.length',
      'list.c',
    ])
      expect(compare({ quantity, max: 1 }), quantity).toMatchObject({ value: null, within: null, missPct: null });
    const [infinite] = compareTargets({ x: Number.POSITIVE_INFINITY }, [{ quantity: 'x', min: 1 }]);
    expect(infinite).toMatchObject({ value: null, within: null });
  });
});
