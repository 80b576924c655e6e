import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { migrate, startEmbedded } from '../../prisma/index.ts';

/** Works on a database of its own: the embedded one, as a first start has it; it is removed afterwards. */
export async function onOwnDatabase<T>(use: (databaseUrl: string) => Promise<T>): Promise<T> {
  const dataDir = await mkdtemp(join(tmpdir(), 'strutwright-bench-'));
  try {
    const { databaseUrl, stop } = await startEmbedded({ dataDir });
    try {
      await migrate(databaseUrl);
      return await use(databaseUrl);
    } finally {
      await stop();
    }
  } finally {
    await rm(dataDir, { recursive: true, force: true });
  }
}
