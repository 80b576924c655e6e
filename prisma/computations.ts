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

/** Runs of the engine, as the worker sees them. Every change that a client can see is told on CHANNELS.changed. */
export function computationRepository(pool: pg.Pool): Computations {
  const changed = (text: string, values: unknown[]) => transaction(pool, (sql) => change(sql, text, values));
  const giveUp = (id: string, when: 'always' | 'if-asked') => changed(GIVE_UP, [id, when === 'always']);

  return {
    async claim(id, workerId) {
      const row = await changed(CLAIM, [id, workerId]);
      if (!row) await giveUp(id, 'if-asked');
      const { team_id: teamId, input, input_hash: inputHash, engine_version: engineVersion, attempts } = row ?? {};
      return row && ({ computationId: id, teamId, input, inputHash, engineVersion, attempts } as Claim);
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
      const packed = await Promise.all(files.map(packFile));
      const columns = [
        packed.map(() => uuidv7()),
        packed.map((file) => file.name),
        packed.map((file) => file.mediaType),
        packed.map((file) => file.sha256),
        packed.map((file) => file.size),
        packed.map((file) => file.gzip),
      ];
      return (await changed(FINISH, [id, JSON.stringify(result), JSON.stringify(quantitiesOf(result)), ...columns])) !== null;
    },

    async fail(id, { error, retryable }) {
      return (await changed(FAIL, [id, JSON.stringify(error), retryable])) !== null;
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
