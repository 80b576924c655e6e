import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import type { ApiKey, KeyRole, NewApiKey } from '../prisma/index.ts';

/** Begins every key made here, so that one that leaked can be recognised. */
const BRAND = 'sw';
const ID_BYTES = 6;
const SECRET_BYTES = 32;
/** Characters of a key that was not made here (BOOTSTRAP_API_KEY, at least 24 long) that it is looked up by. */
const FOREIGN_PREFIX = 8;
const MADE_HERE = /^(sw_[0-9a-f]{12})_[\w-]{43}$/;

/** A new key: brand, an id to look it up by, and 32 random bytes in base64url. */
export const mintKey = (): string => `${BRAND}_${randomBytes(ID_BYTES).toString('hex')}_${randomBytes(SECRET_BYTES).toString('base64url')}`;

/** The part of a key that may be shown and that it is looked up by. */
export const prefixOf = (key: string): string => MADE_HERE.exec(key)?.[1] ?? key.slice(0, FOREIGN_PREFIX);

const digest = (key: string): Buffer => createHash('sha256').update(key).digest();

/** What is stored of a key: never the key itself. The 32 random bytes need no slow hash. */
export function keyRecord(key: string, { name, role }: { name: string; role: KeyRole }): NewApiKey {
  return { name, role, prefix: prefixOf(key), hash: digest(key).toString('hex') };
}

/** The stored key that this one is, compared in constant time; undefined when none is. */
export function matching(key: string, stored: readonly ApiKey[]): ApiKey | undefined {
  const given = digest(key);
  return stored.find((each) => {
    const hash = Buffer.from(each.hash, 'hex');
    return hash.length === given.length && timingSafeEqual(hash, given);
  });
}
