import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readBody } from '../../api/body.ts';

const read = (text: string) => readBody(Buffer.from(text));

describe('reading a JSON body', () => {
  test('gives what JSON.parse gives, for any JSON without forbidden text', () => {
    const member = fc
      .string({ unit: 'grapheme' })
      .filter((key) => !key.includes('\0') && !['__proto__', 'constructor', 'prototype'].includes(key));
    const { tree } = fc.letrec((tie) => ({
      tree: fc.oneof(
        { depthSize: 'small', withCrossShrink: true },
        member,
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        fc.boolean(),
        fc.constant(null),
        fc.array(tie('tree'), { maxLength: 4 }),
        fc.dictionary(member, tie('tree'), { maxKeys: 4, noNullPrototype: true }),
      ),
    }));
    fc.assert(
      fc.property(tree, (value) => {
        const text = JSON.stringify(value);
        expect(read(text)).toEqual({ ok: true, body: JSON.parse(text) });
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  test.each([
    ['cut off', '{"a": '],
    ['a trailing comma', '[1,]'],
    ['a bare word', 'nan'],
    ['an identifier that only begins like a number', '{"a": NaNa}'],
    ['two values', '1 2'],
  ])('refuses %s as malformed', (_, text) => {
    expect(read(text)).toMatchObject({ ok: false, kind: 'malformed', detail: expect.stringContaining('not JSON') });
  });

  test('refuses bytes that are not UTF-8 as malformed', () => {
    expect(readBody(Uint8Array.of(0x22, 0xff, 0x22))).toMatchObject({
      ok: false,
      kind: 'malformed',
      detail: expect.stringContaining('UTF-8'),
    });
  });

  test.each([
    ['a key that reaches the prototype', '{"a": [{"__proto__": {"b": 1}}]}', '/a/0/__proto__'],
    ['a key that reaches the constructor', '{"constructor": {"prototype": {}}}', '/constructor'],
    ['NUL in a text', '{"a": {"b": "x\\u0000"}}', '/a/b'],
    ['NUL in a key', '{"a\\u0000": 1}', '/a\0'],
    ['half a surrogate pair', '["ok", "\\ud83d"]', '/1'],
    ['half a surrogate pair in a key', '{"\\udc00": 1}', '/\udc00'],
  ])('refuses %s and names the place', (_, text, pointer) => {
    expect(read(text)).toMatchObject({ ok: false, kind: 'refused', errors: [{ pointer }] });
    expect(({} as Record<string, unknown>).b).toBeUndefined();
  });

  test('takes a whole surrogate pair', () => {
    expect(read('"\\ud83d\\ude00"')).toEqual({ ok: true, body: '😀' });
  });

  test.each([
    ['lists', '[', ']'],
    ['objects', '{"a":', '}'],
  ])('refuses %s nested half a million deep without running out of stack', (_, open, close) => {
    const deep = `${open.repeat(500_000)}1${close.repeat(500_000)}`;
    expect(read(deep)).toMatchObject({ ok: false, kind: 'refused', errors: [{ detail: expect.stringContaining('at most 32 levels') }] });
  });

  test('reads bare NaN and infinities as numbers, outside of text only', () => {
    expect(read('{"a": NaN, "b": [-Infinity, Infinity], "c": "NaN, \\"Infinity"}')).toEqual({
      ok: true,
      body: { a: Number.NaN, b: [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY], c: 'NaN, "Infinity' },
    });
  });

  // 50 ms, the best of five: the search is linear and takes about 3 ms; a quadratic one takes a second.
  test.each([
    ['escaped quotes', '"\\'.repeat(32_000)],
    ['quotes', '"'.repeat(65_001)],
  ])('searches hostile text for bare numbers in linear time: %s', (_, text) => {
    const times = Array.from({ length: 5 }, () => {
      const began = performance.now();
      expect(read(text).ok).toBe(false);
      return performance.now() - began;
    });
    expect(Math.min(...times)).toBeLessThan(50);
  });
});
