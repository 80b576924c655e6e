import { crc32, inflateRawSync } from 'node:zlib';
import { expect, it } from 'vitest';
import { zip } from '../../../worker/engine/export/zip.ts';

/** What a zip's directory and local headers tell [APPNOTE 6.3, sections 4.3.7, 4.3.12 and 4.3.16; status: from memory]. */
function entriesOf(bytes: Uint8Array) {
  const buffer = Buffer.from(bytes);
  const end = buffer.length - 22;
  expect(buffer.readUInt32LE(end)).toBe(0x06054b50);
  let at = buffer.readUInt32LE(end + 16);
  const entries = Array.from({ length: buffer.readUInt16LE(end + 10) }, () => {
    expect(buffer.readUInt32LE(at)).toBe(0x02014b50);
    const length = buffer.readUInt16LE(at + 28);
    const name = buffer.toString('latin1', at + 46, at + 46 + length);
    const local = buffer.readUInt32LE(at + 42);
    expect(buffer.readUInt32LE(local)).toBe(0x04034b50);
    // version to times, sum, sizes and length of the name are the same in both places
    expect(buffer.subarray(local + 4, local + 30)).toEqual(buffer.subarray(at + 6, at + 32));
    const begin = local + 30 + length;
    const data = inflateRawSync(buffer.subarray(begin, begin + buffer.readUInt32LE(at + 20)));
    expect([data.length, crc32(data)]).toEqual([buffer.readUInt32LE(at + 24), buffer.readUInt32LE(at + 16)]);
    at += 46 + length;
    return { name, text: data.toString() };
  });
  expect(at).toBe(end);
  expect(buffer.readUInt32LE(end + 12)).toBe(end - buffer.readUInt32LE(end + 16));
  return entries;
}

/** Lines that do not repeat, so that packing has several blocks to write. */
function* lines(count: number): Generator<string> {
  for (let k = 0; k < count; k++) yield `${Math.imul(k + 1, 2654435761)} größer \u{1f7e6}\n`;
}

it('holds every text with its own sum and size, for another library too [node:zlib]', () => {
  const bytes = zip(
    [
      { name: 'a.txt', text: [] },
      { name: '3D/b.model', text: lines(30_000) },
      { name: 'c.txt', text: ['one ', 'two'] },
    ],
    () => {},
  );
  const [empty, long, short] = entriesOf(bytes);
  expect([empty, short]).toEqual([
    { name: 'a.txt', text: '' },
    { name: 'c.txt', text: 'one two' },
  ]);
  expect(long.text).toBe([...lines(30_000)].join(''));
});

it('asks every 64 thousand letters whether it is to stop, and stops', () => {
  let looks = 0;
  const letters = [...lines(30_000)].join('').length;
  const poll = (most: number) => () => {
    if (++looks === most) throw new Error('stopped');
  };
  zip([{ name: 'a', text: lines(30_000) }], poll(Number.POSITIVE_INFINITY));
  expect(looks).toBeGreaterThan(letters / 70_000);
  looks = 0;
  expect(() => zip([{ name: 'a', text: lines(30_000) }], poll(3))).toThrow('stopped');
  expect(looks).toBe(3);
});
