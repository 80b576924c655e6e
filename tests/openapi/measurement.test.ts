import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { measuredStatus, measuredTargets, referenceBody, target, validate } from '../../openapi/index.ts';

const readings = (values: number[], quantity: 'massG' | 'reboundHeightMm' = 'massG') => [{ quantity, values, instrument: '', notes: '' }];
const two = { kind: 'standard-deviations', factor: 2 } as const;
const observed = { kind: 'observed-range' } as const;

describe('measured targets', () => {
  it('are the mean, two sample standard deviations to each side', () => {
    // Mean 5, squares of the deviations 32, over n - 1 = 7.
    const [made] = measuredTargets(readings([2, 4, 4, 4, 5, 5, 7, 9]), two);
    expect(made).toEqual({
      quantity: 'massG',
      min: expect.closeTo(5 - 2 * Math.sqrt(32 / 7), 10),
      target: 5,
      max: expect.closeTo(5 + 2 * Math.sqrt(32 / 7), 10),
    });
  });

  it('or from the least to the largest reading', () => {
    expect(measuredTargets(readings([311, 309, 313]), observed)).toEqual([{ quantity: 'massG', min: 309, target: 311, max: 313 }]);
  });

  it('are always targets that the contract takes, whatever was read', () => {
    const values = fc.array(fc.double({ min: 1e-6, max: 1e9, noNaN: true }), { minLength: 2, maxLength: 30 });
    fc.assert(
      fc.property(values, fc.constantFrom(two, observed, { ...two, factor: 10 }), (given, rule) => {
        const [made] = measuredTargets(readings(given), rule);
        if (made.max! <= 1e12) expect(target.safeParse(made).error).toBeUndefined();
        // Twelve digits are kept.
        expect(made.target! / (given.reduce((sum, each) => sum + each, 0) / given.length)).toBeCloseTo(1, 10);
      }),
    );
  });

  it('scale with their unit, and do not depend on the order of the readings', () => {
    const [there] = measuredTargets(readings([300, 310, 314]), two);
    const [scaled] = measuredTargets(readings([3.14, 3, 3.1]), two);
    for (const limit of ['min', 'target', 'max'] as const) expect(scaled[limit]! * 100).toBeCloseTo(there[limit]!, 8);
  });

  it('are said to be measured: of how many, and how wide', () => {
    const both = [...readings([1, 2, 3]), ...readings([4, 5], 'reboundHeightMm')];
    expect(measuredStatus(both, two)).toBe('measured by the team: massG n = 3, reboundHeightMm n = 2; bands: mean ± 2 standard deviations');
    expect(measuredStatus(readings([1, 2]), observed)).toBe('measured by the team: massG n = 2; bands: least to largest reading');
  });
});

describe('a posted reference', () => {
  const mass = { quantity: 'massG', values: [300, 310] };
  const rebound = { quantity: 'reboundHeightMm', values: [1100, 1110] };
  it.each([
    [{}, '/targets', 'required: a target or a measurement'],
    [{ measurements: [mass, mass] }, '/measurements/1/quantity', 'measured twice'],
    [{ measurements: [mass], targets: [{ quantity: 'massG', max: 320 }] }, '/targets/0/quantity', 'also measured'],
    [{ measurements: [rebound] }, '/dropHeightMm', 'required: the height that reboundHeightMm was measured from'],
    [{ measurements: [{ ...mass, values: [300] }] }, '/measurements/0/values', '2 to 200 items'],
    [{ measurements: [{ ...mass, values: [300, -1] }] }, '/measurements/0/values/1', 'at least 0.000001'],
    [{ measurements: [{ ...mass, quantity: 'colour' }] }, '/measurements/0/quantity', '"massG"'],
    [{ measurements: [mass], band: { kind: 'guess' } }, '/band/kind', 'standard-deviations'],
  ])('%j is refused', (more, pointer, detail) => {
    const checked = validate(referenceBody, { key: 'league', ...more });
    expect(checked.ok ? [] : checked.errors).toContainEqual(expect.objectContaining({ pointer, detail: expect.stringContaining(detail) }));
  });

  it('may be measured alone, or beside targets of other quantities', () => {
    for (const more of [
      { measurements: [mass] },
      { measurements: [rebound], dropHeightMm: 1800, targets: [{ quantity: 'massG', max: 320 }] },
    ])
      expect(validate(referenceBody, { key: 'league', ...more }).ok).toBe(true);
  });
});
