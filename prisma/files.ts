import { createHash } from 'node:crypto';
import { promisify } from 'node:util';
import { gzip } from 'node:zlib';
import { storedName } from '../openapi/index.ts';
import { type Database, sqlWithin } from './bound.ts';
import type { Prisma } from './client/generated/client.ts';
import { fileHash } from './input-hash.ts';
import type { NewFile, StoredFile } from './records.ts';
import type { Files } from './repositories.ts';
import type { FileState } from './run-records.ts';
import { computationOf, isFresh } from './submit.ts';
import { uuidv7 } from './uuid.ts';

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

const STATE = `c.id, c.status, c.stage, c.progress_pct, c.error`;
const ORDER = `with c as (${computationOf('file')}) select ${STATE}, ${isFresh} as fresh from c`;
/** The newest order under a name. $1 evaluation, $2 team, $3 name. */
const ORDERED = `select ${STATE} from app.evaluation e join app.computation c on c.team_id = e.team_id and c.kind = 'file'
    and c.input ->> 'of' = e.computation_id::text and c.input ->> 'stored' = $3
  where e.id = $1::uuid and e.team_id = $2::uuid order by c.queued_at desc limit 1`;

const stateOfRow = (row: Record<string, unknown>): FileState =>
  ({ computationId: row.id, status: row.status, stage: row.stage, progressPct: row.progress_pct, error: row.error }) as FileState;

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

    async order(teamId, evaluationId, { order, engineVersion }) {
      const where = { id: evaluationId, teamId };
      const evaluation = await prisma.evaluation.findFirst({ where, select: { status: true, computationId: true } });
      if (!evaluation) return null;
      if (!ENDED.includes(evaluation.status)) return 'not-finished';
      const of = evaluation.computationId;
      const input = JSON.stringify({ of, order, stored: storedName(order) });
      const { rows } = await sqlWithin(prisma).query(ORDER, [uuidv7(), teamId, fileHash(of, order), engineVersion, input]);
      return { state: stateOfRow(rows[0]), dispatch: rows[0].fresh ? rows[0].id : null };
    },

    async ordered(teamId, evaluationId, name) {
      const { rows } = await sqlWithin(prisma).query(ORDERED, [evaluationId, teamId, name]);
      return rows.length > 0 ? stateOfRow(rows[0]) : null;
    },

    async listOfTray(teamId, trayId) {
      const files = { select: info, orderBy: { name: 'asc' } } as const;
      const tray = await prisma.computation.findFirst({ where: trayOf(teamId, trayId), select: { files } });
      return tray ? tray.files : null;
    },

    getOfTray: (teamId, trayId, name) => fileOf(name, trayOf(teamId, trayId)),
  };
}
