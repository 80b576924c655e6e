import { CHANNELS } from '../openapi/index.ts';
import { QUANTITY_COLUMNS, quantityValues } from './quantities.ts';

/** Tells listeners of the computation (changed is a common table expression that returns its id). */
const TOLD = `pg_notify('${CHANNELS.changed}', changed.id::text)`;

/** What may be lost with the machine is not waited for: the commit of this statement does not wait for the disk. */
const UNHURRIED = `(select set_config('synchronous_commit', 'off', true))`;

/** $1 id, $2 worker. */
export const CLAIM = `with changed as (
    update app.computation set status = 'running', attempts = attempts + 1, worker_id = $2, started_at = coalesce(started_at, now()),
      heartbeat_at = now(), stage = null, progress_pct = 0
    where id = $1 and status in ('queued', 'running') and cancel_requested_at is null
    returning id, team_id, kind, input, input_hash, engine_version, attempts)
  select changed.*, ${TOLD}, ${UNHURRIED}, s.input as source_input, s.result as source_result,
    changed.kind = 'evaluation' and exists (select from app.evaluation e where e.computation_id = changed.id
      and not exists (select from app.member m where m.evaluation_id = e.id)) as keeps_files
  from changed left join app.computation s on changed.kind = 'file' and s.id = (changed.input ->> 'of')::uuid`;

/** $1 id, $2 stage, $3 per cent. */
export const PROGRESS = `with changed as (
    update app.computation set stage = $2, progress_pct = $3, heartbeat_at = now() where id = $1 and status = 'running'
    returning id, cancel_requested_at is not null as cancel)
  select cancel, ${TOLD}, ${UNHURRIED} from changed`;

/** $1 ids. */
export const HEARTBEAT = `with changed as (
    update app.computation set heartbeat_at = now() where id = any($1) and status = 'running'
    returning id, cancel_requested_at is not null as cancel)
  select id, cancel, ${UNHURRIED} from changed`;

/** A file that was ordered belongs to the evaluation's computation. */
const FILED_AT = `case when kind = 'file' then (input ->> 'of')::uuid else id end as filed_at`;

/** Files of the computation that `changed` returns. $4 to $9 their columns. */
const STORED = `insert into app.file (id, computation_id, name, media_type, sha256, size, content)
    select file.id, changed.filed_at, name, media_type, sha256, size, content from changed,
      unnest($4::uuid[], $5::text[], $6::text[], $7::text[], $8::int[], $9::bytea[]) as file(id, name, media_type, sha256, size, content)
    on conflict (computation_id, name) do nothing`;

/** $1 id, $2 result, $3 quantities, $4 to $9 the columns of its files. */
export const FINISH = `with changed as (
    update app.computation set status = 'done', finished_at = now(), stage = null, progress_pct = 100, result = $2, quantities = $3, error = null
    where id = $1 and status in ('queued', 'running') returning id, ${FILED_AT}
  ), stored as (${STORED})
  select ${TOLD} from changed`;

/**
 * $1 id, $2 the result so far or null, $3 error, $4 to $9 the columns of its files, $10 whether it is worth another run. Quantities stay null:
 * what filters and sorts by them finds whole results only.
 */
export const FAIL = `with changed as (
    update app.computation set status = 'failed', finished_at = now(), result = $2, error = $3, retryable = $10
    where id = $1 and status in ('queued', 'running') returning id, ${FILED_AT}
  ), stored as (${STORED})
  select ${TOLD} from changed`;

/**
 * The run has ended without an outcome: cancelled when that was asked for, else queued again, the attempt not charged. $1 id, $2 whether
 * also when it was not asked for.
 */
export const GIVE_UP = `with changed as (
    update app.computation set stage = null, progress_pct = 0, queued_at = now(), attempts = greatest(attempts - 1, 0),
      status = case when cancel_requested_at is null then 'queued' else 'cancelled' end,
      finished_at = case when cancel_requested_at is null then null else now() end
    where id = $1 and status = 'running' and (cancel_requested_at is not null or $2) returning id, status)
  select status, ${TOLD} from changed`;

/** SQL: the verdict of a computation that is done; of a thinned one it stands beside the numbers. */
export const verdictOf = (c: string) =>
  `case when ${c}.status = 'done' then coalesce(${c}.result #>> '{printability,verdict}', ${c}.quantities ->> 'verdict') end`;

/** Runs after the change of the computation, in the same transaction: it then sees every evaluation submitted before that change. */
export const COPY = `update app.evaluation e set status = c.status, finished_at = c.finished_at,
    verdict = ${verdictOf('c')}, (${QUANTITY_COLUMNS.join(', ')}) = row(${quantityValues('c.quantities')})
  from app.computation c where c.id = $1 and e.computation_id = c.id and e.status <> 'cancelled'`;

/** $1, $2 milliseconds. */
export const STALE = `select id from app.computation where finished_at is null and (
    status = 'queued' and queued_at < now() - $1 * interval '1 ms' or
    status = 'running' and heartbeat_at < now() - $2 * interval '1 ms')
  order by queued_at limit 1000`;

export const OUTSTANDING = 'select count(*)::int as n from app.computation where team_id = $1 and finished_at is null';
export const COUNTS = 'select status, count(*)::int as n from app.computation group by status';
export const CANCEL_REQUESTED = 'select cancel_requested_at is not null as cancel from app.computation where id = $1';
