import { createHash } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { openClient } from '../../openapi/index.ts';
import { download } from './downloads.ts';

const ID = '019abc10-0000-7000-8000-000000000003';
const CONTENT = '{"unit":"mm"}';
const sha256 = createHash('sha256').update(CONTENT).digest('hex');

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'strutwright-download-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

/** A service of one evaluation whose files are listed as given. */
const clientOf = (listed: { name: string; size: number; sha256: string }) =>
  openClient({
    baseUrl: 'http://service',
    fetch: async (request) => {
      const { pathname } = new URL((request as Request).url);
      if (pathname.endsWith('/files')) return Response.json({ items: [listed], nextCursor: null });
      if (pathname.endsWith(`/files/${listed.name}`)) return new Response(CONTENT);
      return new Response('not here', { status: 404 });
    },
  });

test('a file that is not the one listed is refused and not written', async () => {
  for (const wrong of [{ sha256: sha256.replace(/^./, (c) => (c === '0' ? '1' : '0')) }, { size: CONTENT.length + 1 }]) {
    const client = clientOf({ name: 'graph.json', size: CONTENT.length, sha256, ...wrong });
    await expect(download(client, ID, folder)).rejects.toThrow(/graph\.json arrived damaged: 13 bytes, sha256 /);
  }
  expect(await readdir(folder)).toEqual([]);
});

test('a file that is the one listed is written as it came', async () => {
  await download(clientOf({ name: 'graph.json', size: CONTENT.length, sha256 }), ID, folder);
  expect(await readFile(join(folder, 'graph.json'), 'utf8')).toBe(CONTENT);
});
