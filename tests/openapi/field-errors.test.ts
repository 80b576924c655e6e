import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { evaluationRequest, type FieldError, materialBody, ordinal, validate } from '../../openapi/index.ts';
import { pathsOf, request, withValue } from './bodies.ts';

const refused = (schema: z.ZodType, value: unknown): FieldError[] => {
  const checked = validate(schema, value);
  return checked.ok ? [] : checked.errors;
};
const one = (schema: z.ZodType, value: unknown): FieldError => {
  const errors = refused(schema, value);
  expect(errors).toHaveLength(1);
  return errors[0];
};

describe('what is allowed is told in words', () => {
  it.each([
    [z.number().gt(0).max(100), -1, 'is -1; allowed: greater than 0, at most 100'],
    [z.number().gt(0).max(100), 'two', 'is "two"; allowed: a number, greater than 0, at most 100'],
    [z.number().min(0).lt(0.5), 0.5, 'is 0.5; allowed: at least 0, less than 0.5'],
    [z.number(), Number.NaN, 'is NaN; allowed: a number'],
    [z.number().max(5), Number.POSITIVE_INFINITY, 'is Infinity; allowed: a number, at most 5'],
    [z.int().min(1), 1.5, 'is 1.5; allowed: a whole number, at least 1'],
    [z.enum(['posts', 'none']), 'braced', 'is "braced"; allowed: "posts", "none"'],
    [z.literal('sphere'), 'cube', 'is "cube"; allowed: "sphere"'],
    [z.string().max(3), 'four', 'is "four"; allowed: text of at most 3 characters'],
    [z.string().regex(/^a/, 'text that begins with a'), 'b', 'is "b"; allowed: text that begins with a'],
    [z.uuid(), '7', 'is "7"; allowed: a UUID'],
    [z.array(z.number()).min(1).max(4), [], 'is an empty list; allowed: a list of 1 to 4 items, each a number'],
    [z.tuple([z.number(), z.number()]), [1], 'is a list of 1; allowed: a list of exactly 2 items, each a number'],
    [z.boolean(), 1, 'is 1; allowed: true, false'],
    [z.number().nullable(), 'x', 'is "x"; allowed: a number, or null'],
    [z.strictObject({ a: z.number(), b: z.number() }), 'x', 'is "x"; allowed: an object with a, b'],
  ])('%#', (schema, value, detail) => {
    expect(one(schema, value).detail).toBe(detail);
  });

  it('tells a number that is out of range and too large to be whole once', () => {
    for (const schema of [z.int().min(1).max(9), ordinal]) expect(refused(schema, 1e30)).toHaveLength(1);
    expect(one(ordinal, '9'.repeat(30)).detail).toMatch(/allowed: a whole number, at least 1, at most 2147483647$/);
  });

  it('says that a field is missing', () => {
    const error = one(z.strictObject({ a: z.number().min(2) }), {});
    expect(error).toEqual({ pointer: '/a', value: undefined, detail: 'is missing; required: a number, at least 2' });
  });

  it('names an unknown field and lists the known ones', () => {
    const error = one(z.strictObject({ a: z.number().optional(), b: z.number().optional() }), { 'c/d~': 1 });
    expect(error).toEqual({ pointer: '/c~1d~0', value: 1, detail: 'is not a known field; allowed: a, b' });
  });

  it('names a key that is not allowed', () => {
    const error = one(z.record(z.string().max(2), z.number()), { abc: 1 });
    expect(error).toEqual({ pointer: '/abc', value: 'abc', detail: 'is not allowed as a key; allowed: text of at most 2 characters' });
  });
});

describe('a record by key or inline', () => {
  it('is told as a record when an object was given', () => {
    const errors = refused(evaluationRequest, { ...request(), material: { family: 'TPU', colour: 'red' } });
    expect(errors.find((each) => each.pointer === '/material/densityGCm3')?.detail).toMatch(/^is missing; required: a number/);
    expect(errors.find((each) => each.pointer === '/material/colour')?.detail).toMatch(/^is not a known field; allowed: .*densityGCm3/);
  });

  it('is told as a key when text was given', () => {
    const error = one(evaluationRequest, { ...request(), material: 'TPU Soft' });
    expect(error).toEqual({
      pointer: '/material',
      value: 'TPU Soft',
      detail: 'is "TPU Soft"; allowed: a key of lower-case letters, digits and single hyphens, at most 64 characters',
    });
  });

  it('is told as either when neither fits', () => {
    expect(one(evaluationRequest, { ...request(), material: 7 }).detail).toMatch(/^is 7; allowed: a key of .* or an object with key/);
  });
});

describe('values are shown short and safe', () => {
  it.each([
    ['long text', 'x'.repeat(1e6)],
    ['a long list', Array(1e5).fill(1)],
    ['a wide object', Object.fromEntries(Array.from({ length: 1e4 }, (_, k) => [`k${k}`, k]))],
    ['a deep list', JSON.parse('['.repeat(4000) + ']'.repeat(4000))],
  ])('%s', (_, value) => {
    const errors = refused(z.strictObject({ n: z.number() }), { n: value });
    expect(JSON.stringify(errors).length).toBeLessThan(1500);
  });

  it('shows numbers that JSON has not as text', () => {
    const json = JSON.stringify(refused(z.array(z.number()), [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]));
    expect(JSON.parse(json).map((each: FieldError) => each.value)).toEqual(['NaN', 'Infinity', '-Infinity']);
  });

  it('lists at most fifty errors', () => {
    const wide = Object.fromEntries(Array.from({ length: 1e4 }, (_, k) => [`k${k}`, k]));
    expect(refused(evaluationRequest, wide)).toHaveLength(50);
  });
});

describe('whatever is put wherever in a good body', () => {
  const junk = fc.oneof(
    fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, -1, 0, 1e300, '', 'x', null, true, [], {}, undefined),
    fc.jsonValue({ maxDepth: 3 }),
  );
  it.each([
    ['evaluation', evaluationRequest, request()],
    ['material', materialBody, { ...materialBodyOf(), key: 'own' }],
  ])('%s: passes or is refused with pointer, value and what is allowed', (_, schema, good) => {
    expect(refused(schema, good)).toEqual([]);
    fc.assert(
      fc.property(fc.constantFrom(...pathsOf(good)), junk, (path, value) => {
        const body = withValue(good, path, value);
        for (const error of refused(schema, body)) {
          expect(error.pointer).toMatch(/^(\/[^/]*)*$/);
          expect(error.detail).toMatch(/(allowed|required): \S/);
          // no word of the schema library's own, and nothing that was not understood
          expect(error.detail).not.toMatch(/undefined|\[object|another kind|Invalid |Too (small|big)|expected/);
          expect(() => JSON.stringify(error)).not.toThrow();
        }
      }),
      { numRuns: 1000 },
    );
  });
});

function materialBodyOf() {
  return {
    family: 'TPU',
    densityGCm3: 1.1,
    modulusMPa: 60,
    poisson: 0.45,
    lossFactor: 0.1,
    strainLife: { coefficientPct: 60, exponent: -0.12 },
    bulkDensityGCm3: 0.5,
    virginSharePct: 50,
    pricePerKg: { amount: 90, currency: 'EUR' },
    shrinkagePct: [2, 2, 2],
    source: { densityGCm3: 'measured' },
  };
}
