import type { UndertakingRecord } from './undertaking-types.ts';

/** SQL: what a record needs of an undertaking `u`. */
export const UNDERTAKING_COLUMNS = `u.id, u.team_id, u.kind, u.name, u.input, u.status, u.total, u.begun, u.done, u.failed, u.cancelled,
  u.start_at, u.finish_by, u.repeat_at, u.engine_versions, u.created_at, u.started_at, u.resumed_at, u.finished_at, u.outcome`;

export const recordOfUndertaking = (row: Record<string, unknown>): UndertakingRecord =>
  ({
    id: row.id,
    teamId: row.team_id,
    kind: row.kind,
    name: row.name,
    input: row.input,
    status: row.status,
    total: row.total,
    begun: row.begun,
    done: row.done,
    failed: row.failed,
    cancelled: row.cancelled,
    startAt: row.start_at,
    finishBy: row.finish_by,
    repeatAt: row.repeat_at,
    engineVersions: row.engine_versions,
    createdAt: row.created_at,
    startedAt: row.started_at,
    resumedAt: row.resumed_at,
    finishedAt: row.finished_at,
    outcome: row.outcome,
  }) as UndertakingRecord;

/** Nobody else steps it until the transaction ends; no row where another process is at it. */
export const HOLD_UNDERTAKING = 'select id from app.undertaking where id = $1 for update skip locked';

/** Counts the members that have ended since the last step. $1 id. */
export const SETTLE = `
  with ended as (
    update app.member m set settled_at = now() from app.evaluation e
    where m.undertaking_id = $1 and m.settled_at is null and e.id = m.evaluation_id and e.finished_at is not null
    returning e.status),
  counted as (
    select count(*) filter (where status = 'done') as done, count(*) filter (where status = 'failed') as failed,
      count(*) filter (where status = 'cancelled') as cancelled, count(*) as all from ended)
  update app.undertaking u set done = u.done + counted.done, failed = u.failed + counted.failed, cancelled = u.cancelled + counted.cancelled
  from counted where u.id = $1
  returning ${UNDERTAKING_COLUMNS}, now() as now, u.begun - u.done - u.failed - u.cancelled as open`;
