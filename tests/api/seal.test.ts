import { expect, test } from 'vitest';
import { opened, sealed } from '../../api/seal.ts';

test('a seal is opened by its own secret only, hides its text, and is another one each time', () => {
  const seals = [sealed('sw_key, größe', 'Bearer one'), sealed('sw_key, größe', 'Bearer one')];
  expect(seals[0]).not.toBe(seals[1]);
  for (const seal of seals) {
    expect(opened(seal, 'Bearer one')).toBe('sw_key, größe');
    expect(Buffer.from(seal, 'base64url').includes('sw_key')).toBe(false);
    expect(() => opened(seal, 'Bearer two')).toThrow();
  }
});

test('a seal with any one byte changed, or cut short, is refused', () => {
  const bytes = Buffer.from(sealed('text', 'secret'), 'base64url');
  for (let at = 0; at < bytes.length; at++) {
    const changed = Buffer.from(bytes);
    changed[at] ^= 1;
    expect(() => opened(changed.toString('base64url'), 'secret'), String(at)).toThrow();
  }
  for (const length of [0, 20, bytes.length - 1]) expect(() => opened(bytes.subarray(0, length).toString('base64url'), 'secret')).toThrow();
});
