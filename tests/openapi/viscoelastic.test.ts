import { describe, expect, it } from 'vitest';
import { branchStorageMPa, inlineMaterial, MATERIALS, tests, validate } from '../../openapi/index.ts';
import { inputHash } from '../../prisma/index.ts';
import { sampleInput } from '../prisma/samples.ts';

const { builtIn: _, lossFactor, ...rest } = MATERIALS[0];
/** Pointers and sentences that a material is refused with. */
const refusals = (more: object) => {
  const checked = validate(inlineMaterial, { ...rest, ...more });
  return checked.ok ? [] : checked.errors.map(({ pointer, detail }) => `${pointer} ${detail}`);
};
const terms = (...ratios: number[]) => ratios.map((ratio, k) => ({ timeS: 10 ** (k - 3), ratio }));

describe('what a material says of its behaviour in time', () => {
  it.each([
    ['a loss factor', { lossFactor }],
    ['terms by ratio', { relaxation: terms(0.2, 0.1) }],
    ['terms by modulus', { relaxation: [{ timeS: 0.01, modulusMPa: 20 }], lossFactor: null }],
    ['a table that rises', { lossFactor, byTemperature: [0, 20].map((temperatureC) => ({ temperatureC, modulusMPa: 60 })) }],
    ['direction factors', { lossFactor, directionFactors: { upright: 0.8, inLayer: 1 } }],
  ])('may be %s', (_, more) => {
    expect(refusals(more)).toEqual([]);
  });

  it.each([
    ['both', { lossFactor, relaxation: terms(0.2) }, '/relaxation stands beside lossFactor; allowed: one of lossFactor and relaxation'],
    ['none', {}, '/lossFactor is missing; required: a number, at least 0, at most 2, unless relaxation is given'],
    [
      'a term of two kinds',
      { relaxation: [{ timeS: 1, ratio: 1, modulusMPa: 1 }] },
      '/relaxation/0 needs either ratio or modulusMPa; allowed: one of the two',
    ],
    ['a term of no kind', { relaxation: [{ timeS: 1 }] }, '/relaxation/0 needs either ratio or modulusMPa; allowed: one of the two'],
    [
      'terms of different kinds',
      { relaxation: [...terms(0.1), { timeS: 1, modulusMPa: 2 }] },
      '/relaxation/1 is given in another way than the first term; allowed: ratio in all terms, or modulusMPa in all',
    ],
    [
      'branches that leave nothing',
      { relaxation: [{ timeS: 1, modulusMPa: 61 }] },
      '/relaxation the branches alone hold 61.00 MPa at referenceHz; allowed: less than modulusMPa, which is 60',
    ],
    [
      'a table that falls',
      { lossFactor, byTemperature: [20, 0].map((temperatureC) => ({ temperatureC, modulusMPa: 60 })) },
      '/byTemperature/1/temperatureC is 0; does not rise; allowed: more than 20',
    ],
    [
      'a table with loss factors beside terms',
      { relaxation: terms(0.2), byTemperature: [0, 20].map((temperatureC) => ({ temperatureC, modulusMPa: 60, lossFactor })) },
      '/byTemperature/0/lossFactor is 0.12; stands beside relaxation; allowed: leave it out',
    ],
  ])('is refused when it is %s', (_, more, refusal) => {
    expect(refusals(more)).toContain(refusal);
  });

  it('holds at a frequency what the spring and the dashpot of each branch hold', () => {
    // x = 1 at 1 / (2 pi time): half of the branch
    expect(branchStorageMPa([{ timeS: 1 / (2 * Math.PI * 30), modulusMPa: 10 }], 30)).toBeCloseTo(5, 12);
  });
});

describe('fields that came later', () => {
  it('leave the hash of an input as it was, absent or null', () => {
    const input = sampleInput(160);
    const nulls = { relaxation: null, temperatureC: null, byTemperature: null, directionFactors: null };
    // computed by the version before these fields were there
    expect(inputHash(input)).toBe('sha256:be59f6fb5de31204593c5dff0e2ec5b8bb2f510a3375ee3504beabb16767ddae');
    expect(inputHash({ ...input, material: { ...input.material, ...nulls } })).toBe(inputHash(input));
  });

  it('of the tests have no default that an old input would get', () => {
    expect(tests.parse({ depth: 'full', drop: { heightMm: 1800 } })).toEqual({ depth: 'full', drop: { heightMm: 1800, orientations: 6 } });
  });
});
