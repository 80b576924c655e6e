import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { digestField, digestOf, requestedRange } from '../../api/range.ts';

const file = { size: 1000, etag: '"abc"' };
const asked = (range?: string, ifRange?: string) => requestedRange({ range, ifRange }, file);
const part = (first: number, last: number) => ({ kind: 'part', first, last });
const whole = { kind: 'whole' };
const unsatisfiable = { kind: 'unsatisfiable' };

describe('a range', () => {
  // The examples of RFC 9110, section 14.1.2, of a representation of 10 000 bytes, and their neighbours.
  test.each([
    ['bytes=0-499', part(0, 499)],
    ['bytes=500-999', part(500, 999)],
    ['bytes=-500', part(9500, 9999)],
    ['bytes=9500-', part(9500, 9999)],
    ['bytes=0-0', part(0, 0)],
    ['bytes=-1', part(9999, 9999)],
    ['bytes=9999-20000', part(9999, 9999)],
    ['bytes=-20000', part(0, 9999)],
    ['Bytes= 1-2 ', part(1, 2)],
    ['bytes=10000-', unsatisfiable],
    ['bytes=10000-10001', unsatisfiable],
    ['bytes=-0', unsatisfiable],
    [`bytes=${'9'.repeat(400)}-`, unsatisfiable],
    ['bytes=0-0,-1', whole],
    ['bytes=5-4', whole],
    ['bytes=-', whole],
    ['bytes=a-b', whole],
    ['bytes=1', whole],
    ['bytes=+1-2', whole],
    ['lines=0-1', whole],
    ['', whole],
    [undefined, whole],
  ])('%s', (range, expected) => {
    expect(requestedRange({ range }, { size: 10_000, etag: '""' })).toEqual(expected);
  });

  test('holds for the ETag it was asked for only', () => {
    expect(asked('bytes=0-9', '"abc"')).toEqual(part(0, 9));
    for (const other of ['"abd"', 'abc', 'W/"abc"', 'Sun, 31 Jan 2027 09:00:00 GMT', ''])
      expect(asked('bytes=0-9', other), other).toEqual(whole);
    expect(asked('bytes=5000-', '"other"')).toEqual(whole);
  });

  test('of an empty file is never satisfied', () => {
    for (const range of ['bytes=0-', 'bytes=-5', 'bytes=0-0'])
      expect(requestedRange({ range }, { size: 0, etag: '""' })).toEqual(unsatisfiable);
  });

  test('always lies within the file, and is what the header says of it', () => {
    fc.assert(
      fc.property(fc.nat(50), fc.nat(60), fc.nat(60), (size, first, last) => {
        const bytes = Array.from({ length: size }, (_, k) => k);
        const found = requestedRange({ range: `bytes=${first}-${last}` }, { size, etag: '""' });
        const expected = bytes.slice(first, last + 1);
        if (last < first) expect(found).toEqual(whole);
        else if (expected.length === 0) expect(found).toEqual(unsatisfiable);
        else expect(found).toEqual(part(expected[0], expected.at(-1)!));
      }),
    );
  });
});

test('a digest is written as RFC 9530 has it in its appendix', () => {
  // {"hello": "world"} and a line feed, appendix B.1.
  const text = Buffer.from('{"hello": "world"}\n');
  expect(digestOf(text)).toBe('sha-256=:RK/0qy18MlBSVnWgjwz6lZEWjP/lF5HF9bvEF8FabDg=:');
  expect(digestField(createHash('sha256').update(text).digest())).toBe(digestOf(text));
});
