import { mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Keys } from '../prisma/index.ts';
import { keyRecord, mintKey, prefixOf } from './api-key.ts';

const DESCRIBED = { name: 'first admin key', role: 'admin' } as const;
const FIRST_TEAM = 'first team';

export interface FirstKeyOptions {
  keys: Keys;
  dataDir: string;
  /** Given: this key is the first admin key, and nothing is written. */
  bootstrapApiKey: string | null;
}

/**
 * Sees to it that there is an admin key. Without bootstrapApiKey the first start ever makes one, keeps it in dataDir/first-key (mode 0600,
 * nothing but the key) and answers it to be shown; every later start answers null. The file is written before the key is stored, under
 * another name, so that a key that counts is never lost.
 */
export async function firstKey({ keys, dataDir, bootstrapApiKey }: FirstKeyOptions): Promise<string | null> {
  if (bootstrapApiKey !== null) {
    await keys.bootstrap({ teamName: FIRST_TEAM, key: keyRecord(bootstrapApiKey, DESCRIBED), unless: 'same-key' });
    return null;
  }
  const key = mintKey();
  const draft = join(dataDir, `.${prefixOf(key)}`);
  await mkdir(dataDir, { recursive: true });
  await writeFile(draft, key, { mode: 0o600 });
  try {
    const made = await keys.bootstrap({ teamName: FIRST_TEAM, key: keyRecord(key, DESCRIBED), unless: 'any-key' });
    if (!made) return null;
    await rename(draft, firstKeyFile(dataDir));
    return key;
  } finally {
    await rm(draft, { force: true });
  }
}

export const firstKeyFile = (dataDir: string): string => join(dataDir, 'first-key');
