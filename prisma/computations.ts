import type pg from 'pg';
import {
  CANCEL_REQUESTED,
  CLAIM,
  COPY,
  COUNTS,
  FAIL,
  FINISH,
  GIVE_UP,
  HEARTBEAT,
  OUTSTANDING,
  PROGRESS,
  STALE,
} from './computation-statements.ts';
import { packFile } from './files.ts';
import { quantitiesOf } from './quantities.ts';
import type { NewFile } from './records.ts';
import type { Claim } from './run-records.ts';
import type { Computations } from './run-repositories.ts';
import { type Sql, transaction } from './transaction.ts';
import { uuidv7 } from './uuid.ts';

/** Changes a computation and copies the change onto its evaluations; null when the computation was not in a state to change. */
async function change(sql: Sql, text: string, values: unknown[]): Promise<Record<string, unknown> | null> {
  const { rows } = await sql.query(text, values);
  if (rows.length === 0) return null;
  await sql.query(COPY, [values[0]]);
  return rows[0];
}

/** Files packed, column by column. */
async function columnsOf(files: readonly NewFile[]): Promise<unknown[][]> {
  const packed = await Promise.all(files.map(packFile));
  return [
    packed.map(() => uuidv7()),
    packed.map((file) => file.name),
    packed.map((file) => file.mediaType),
    packed.map((file) => file.sha256),
    packed.map((file) => file.size),
    packed.map((file) => file.gzip),
  ];
}

/** Runs of the engine, as the worker sees them. Every change that a client can see is told on CHANNELS.changed. */
export function computationRepository(pool: pg.Pool): Computations {
  const changed = (text: string, values: unknown[]) => transaction(pool, (sql) => change(sql, text, values));
  const giveUp = (id: string, when: 'always' | 'if-asked') => changed(GIVE_UP, [id, when === 'always']);

  return {
    async claim(id, workerId) {
      const row = await changed(CLAIM, [id, workerId]);
      if (!row) await giveUp(id, 'if-asked');
      if (!row) return null;
      const { team_id: teamId, kind, input_hash: inputHash, engine_version: engineVersion, attempts, keeps_files: keepsFiles } = row;
      const source = kind === 'file' ? { evaluation: row.source_input, result: row.source_result } : {};
      const input = { ...(row.input as object), ...source };
      return { computationId: id, teamId, kind, input, inputHash, engineVersion, attempts, keepsFiles } as Claim;
    },

    async progress(id, { stage, progressPct }) {
      const { rows } = await pool.query(PROGRESS, [id, stage, progressPct]);
      return { cancelRequested: rows[0]?.cancel ?? false };
    },

    async heartbeat(ids) {
      const { rows } = await pool.query(HEARTBEAT, [ids]);
      return rows.filter((row) => row.cancel).map((row) => row.id);
    },

    async finish(id, { result, files }) {
      const values = [id, JSON.stringify(result), JSON.stringify(quantitiesOf(result)), ...(await columnsOf(files))];
      return (await changed(FINISH, values)) !== null;
    },

    async fail(id, { error, retryable, partial = null }) {
      const result = partial && JSON.stringify(partial.result);
      const values = [id, result, JSON.stringify(error), ...(await columnsOf(partial?.files ?? [])), retryable];
      return (await changed(FAIL, values)) !== null;
    },

    async cancelled(id) {
      return ((await giveUp(id, 'always'))?.status as 'cancelled' | 'queued' | undefined) ?? null;
    },

    async release(id) {
      return (await giveUp(id, 'always'))?.status === 'queued';
    },

    async stale({ queuedMs, silentMs }) {
      return (await pool.query(STALE, [queuedMs, silentMs])).rows.map((row) => row.id);
    },

    async isCancelRequested(id) {
      const { rows } = await pool.query(CANCEL_REQUESTED, [id]);
      return rows[0]?.cancel ?? false;
    },

    async outstanding(teamId) {
      return (await pool.query(OUTSTANDING, [teamId])).rows[0].n;
    },

    async counts() {
      const { rows } = await pool.query(COUNTS);
      return { queued: 0, running: 0, done: 0, failed: 0, cancelled: 0, ...Object.fromEntries(rows.map((row) => [row.status, row.n])) };
    },
  };
}
