import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { keyRecord, matching, mintKey, prefixOf } from '../../api/api-key.ts';
import type { ApiKey } from '../../prisma/index.ts';

const stored = (key: string): ApiKey => ({
  ...keyRecord(key, { name: 'a key', role: 'member' }),
  id: 'id',
  teamId: 'team',
  createdAt: new Date(0),
  lastUsedAt: null,
  revokedAt: null,
});

describe('API keys', () => {
  test('hold 32 random bytes behind a readable id', () => {
    const keys = Array.from({ length: 100 }, mintKey);
    expect(new Set(keys).size).toBe(100);
    for (const key of keys) {
      expect(key).toMatch(/^sw_[0-9a-f]{12}_[\w-]{43}$/);
      expect(Buffer.from(key.slice(16), 'base64url')).toHaveLength(32);
      expect(key.startsWith(`${prefixOf(key)}_`)).toBe(true);
    }
  });

  test('are stored as a hash, and nothing of the secret with it', () => {
    const key = mintKey();
    const record = keyRecord(key, { name: 'a key', role: 'admin' });
    expect(record.hash).toBe(createHash('sha256').update(key).digest('hex'));
    expect(JSON.stringify(record)).not.toContain(key.slice(16, 24));
  });

  test('match themselves only, among several of the same prefix', () => {
    const key = mintKey();
    const sibling = `${key.slice(0, -1)}${key.endsWith('A') ? 'B' : 'A'}`;
    expect(prefixOf(sibling)).toBe(prefixOf(key));
    expect(matching(key, [stored(sibling), stored(key)])?.hash).toBe(stored(key).hash);
    expect(matching(key, [stored(sibling)])).toBeUndefined();
    expect(matching(key, [{ ...stored(key), hash: '' }])).toBeUndefined();
  });

  test('not made here are looked up by a third of their least length at most', () => {
    expect(prefixOf('a-key-that-somebody-chose-himself')).toBe('a-key-th');
  });
});
