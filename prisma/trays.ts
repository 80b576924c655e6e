import type pg from 'pg';
import { CHANNELS } from '../openapi/index.ts';
import { pageLimit, readCursor, toPage } from './page.ts';
import type { TrayRecord } from './run-records.ts';
import type { Trays } from './run-repositories.ts';
import { computationOf, isFresh } from './submit.ts';
import type { Sql } from './transaction.ts';
import { uuidv7 } from './uuid.ts';

const COLUMNS = `c.id, c.status, c.stage, c.progress_pct, c.created_at, c.started_at, c.finished_at, c.input,
  case when c.status = 'done' then c.result end as result, case when c.status = 'failed' then c.error end as error`;

const SUBMIT = `with c as (${computationOf('tray')}) select ${COLUMNS}, ${isFresh} as fresh from c`;

const GET = `select ${COLUMNS} from app.computation c where c.id = $1 and c.team_id = $2 and c.kind = 'tray'`;

/** Without results. $1 team, $2 limit, $3 and $4 the place of the last one. */
const LIST = `select ${COLUMNS.replace('c.result', 'null')} from app.computation c
  where c.team_id = $1 and c.kind = 'tray' and ($3::timestamptz is null or (c.created_at, c.id) < ($3::timestamptz, $4::uuid))
  order by c.created_at desc, c.id desc limit $2`;

/** Queued: cancelled at once. Running: asked to stop. $1 id, $2 team, $3 and $4 channels. */
const CANCEL = `with asked as (
    update app.computation c set cancel_requested_at = now(),
      status = case when status = 'queued' then 'cancelled' else status end,
      finished_at = case when status = 'queued' then now() end
    where id = $1 and team_id = $2 and kind = 'tray' and status in ('queued', 'running') returning id)
  select pg_notify($3, id::text), pg_notify($4, id::text) from asked`;

const recordOfRow = (row: Record<string, unknown>): TrayRecord =>
  ({
    id: row.id,
    status: row.status,
    stage: row.stage,
    progressPct: row.progress_pct,
    createdAt: row.created_at,
    startedAt: row.started_at,
    finishedAt: row.finished_at,
    input: row.input,
    result: row.result,
    error: row.error,
  }) as TrayRecord;

type Submit = Trays['submit'];

/** Finds or makes the tray of an input; versions are part of the input, so no two requests that differ share one. */
export async function submitTray(sql: Sql, ...[teamId, { input, inputHash, engineVersion }]: Parameters<Submit>): ReturnType<Submit> {
  const { rows } = await sql.query(SUBMIT, [uuidv7(), teamId, inputHash, engineVersion, JSON.stringify(input)]);
  const tray = recordOfRow(rows[0]);
  return { tray, dispatch: rows[0].fresh ? tray.id : null };
}

export function trayRepository(pool: pg.Pool): Trays {
  const get = async (teamId: string, id: string) => {
    const { rows } = await pool.query(GET, [id, teamId]);
    return rows.length > 0 ? recordOfRow(rows[0]) : null;
  };
  return {
    submit: (...given) => submitTray(pool, ...given),
    get,
    async list(teamId, page) {
      const limit = pageLimit(page);
      const after = readCursor(page, '-createdAt', 'time');
      const { rows } = await pool.query(LIST, [teamId, limit + 1, after?.value ?? null, after?.id ?? null]);
      const place = ({ createdAt, id }: TrayRecord) => ({ sort: '-createdAt', value: createdAt.toISOString(), id });
      return toPage(rows.map(recordOfRow), limit, place, (each) => each);
    },
    async cancel(teamId, id) {
      await pool.query(CANCEL, [id, teamId, CHANNELS.cancel, CHANNELS.changed]);
      return get(teamId, id);
    },
  };
}
