import type pg from 'pg';
import { CHANNELS } from '../openapi/index.ts';
import { packFile } from './files.ts';
import { QUANTITY_COLUMNS, quantitiesOf, quantityValues } from './quantities.ts';
import type { Claim } from './records.ts';
import type { Computations } from './repositories.ts';
import { type Sql, transaction } from './transaction.ts';
import { uuidv7 } from './uuid.ts';

/** Tells listeners of the computation (changed is a common table expression that returns its id). */
const TOLD = `pg_notify('${CHANNELS.changed}', changed.id::text)`;

/** What may be lost with the machine is not waited for: the commit of this statement does not wait for the disk. */
const UNHURRIED = `(select set_config('synchronous_commit', 'off', true))`;

const CLAIM = `with changed as (
    update app.computation set status = 'running', attempts = attempts + 1, worker_id = $2, started_at = coalesce(started_at, now()),
      heartbeat_at = now(), stage = null, progress_pct = 0
    where id = $1 and status in ('queued', 'running') and cancel_requested_at is null
    returning id, team_id, input, input_hash, engine_version, attempts)
  select changed.*, ${TOLD}, ${UNHURRIED} from changed`;

const PROGRESS = `with changed as (
    update app.computation set stage = $2, progress_pct = $3, heartbeat_at = now() where id = $1 and status = 'running'
    returning id, cancel_requested_at is not null as cancel)
  select cancel, ${TOLD}, ${UNHURRIED} from changed`;

const HEARTBEAT = `with changed as (
    update app.computation set heartbeat_at = now() where id = any($1) and status = 'running'
    returning id, cancel_requested_at is not null as cancel)
  select id, cancel, ${UNHURRIED} from changed`;

const FINISH = `with changed as (
    update app.computation set status = 'done', finished_at = now(), stage = null, progress_pct = 100, result = $2, quantities = $3, error = null
    where id = $1 and status in ('queued', 'running') returning id
  ), stored as (
    insert into app.file (id, computation_id, name, media_type, sha256, size, content)
    select file.id, changed.id, name, media_type, sha256, size, content from changed,
      unnest($4::uuid[], $5::text[], $6::text[], $7::text[], $8::int[], $9::bytea[]) as file(id, name, media_type, sha256, size, content))
  select ${TOLD} from changed`;

const FAIL = `with changed as (
    update app.computation set status = 'failed', finished_at = now(), error = $2, retryable = $3
    where id = $1 and status in ('queued', 'running') returning id)
  select ${TOLD} from changed`;

/** The run has ended without an outcome: cancelled when that was asked for, else queued again, the attempt not charged. */
const GIVE_UP = `with changed as (
    update app.computation set stage = null, progress_pct = 0, queued_at = now(), attempts = greatest(attempts - 1, 0),
      status = case when cancel_requested_at is null then 'queued' else 'cancelled' end,
      finished_at = case when cancel_requested_at is null then null else now() end
    where id = $1 and status = 'running' and (cancel_requested_at is not null or $2) returning id, status)
  select status, ${TOLD} from changed`;

/** Runs after the change of the computation, in the same transaction: it then sees every evaluation submitted before that change. */
const COPY = `update app.evaluation e set status = c.status, finished_at = c.finished_at,
    verdict = c.result #>> '{printability,verdict}', (${QUANTITY_COLUMNS.join(', ')}) = row(${quantityValues('c.quantities')})
  from app.computation c where c.id = $1 and e.computation_id = c.id and e.status <> 'cancelled'`;

const STALE = `select id from app.computation where finished_at is null and (
    status = 'queued' and queued_at < now() - $1 * interval '1 ms' or
    status = 'running' and heartbeat_at < now() - $2 * interval '1 ms')
  order by queued_at limit 1000`;

const OUTSTANDING = 'select count(*)::int as n from app.computation where team_id = $1 and finished_at is null';
const COUNTS = 'select status, count(*)::int as n from app.computation group by status';

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
      const { rows } = await pool.query('select cancel_requested_at is not null as cancel from app.computation where id = $1', [id]);
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
