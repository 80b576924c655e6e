import { createHash } from 'node:crypto';
import { promisify } from 'node:util';
import { gzip } from 'node:zlib';
import type { Database } from './bound.ts';
import type { Prisma } from './client/generated/client.ts';
import type { NewFile, StoredFile } from './records.ts';
import type { Files } from './repositories.ts';

/** A file as it is stored: compressed off the event loop, with size and sha256 of the plain content. */
export async function packFile({ name, mediaType, content }: NewFile): Promise<Omit<StoredFile, 'createdAt'>> {
  const bytes = typeof content === 'string' ? Buffer.from(content) : content;
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  return { name, mediaType, sha256, size: bytes.length, gzip: await promisify(gzip)(bytes) };
}

const info = { name: true, mediaType: true, sha256: true, size: true, createdAt: true } as const;

/** A run that failed on its way leaves the files made so far. */
const ENDED = ['done', 'failed'];

const trayOf = (teamId: string, id: string) => ({ id, teamId, kind: 'tray' });

export function fileRepository(prisma: Database): Files {
  const fileOf = async (name: string, computation: Prisma.ComputationWhereInput): Promise<StoredFile | null> => {
    const file = await prisma.file.findFirst({ where: { name, computation }, select: { ...info, content: true } });
    if (!file) return null;
    const { content, ...rest } = file;
    return { ...rest, gzip: Buffer.from(content) };
  };

  return {
    async list(teamId, evaluationId) {
      const files = { select: info, orderBy: { name: 'asc' } } as const;
      const where = { id: evaluationId, teamId };
      const evaluation = await prisma.evaluation.findFirst({ where, select: { status: true, computation: { select: { files } } } });
      if (!evaluation) return null;
      return ENDED.includes(evaluation.status) ? evaluation.computation.files : [];
    },

    async get(teamId, evaluationId, name) {
      const evaluations = { some: { id: evaluationId, teamId, status: { in: ENDED } } };
      return fileOf(name, { evaluations });
    },

    async listOfTray(teamId, trayId) {
      const files = { select: info, orderBy: { name: 'asc' } } as const;
      const tray = await prisma.computation.findFirst({ where: trayOf(teamId, trayId), select: { files } });
      return tray ? tray.files : null;
    },

    getOfTray: (teamId, trayId, name) => fileOf(name, trayOf(teamId, trayId)),
  };
}
