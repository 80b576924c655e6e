import type pg from 'pg';
import { CHANNELS } from '../openapi/index.ts';
import { heldUndertaking } from './held-undertaking.ts';
import { inTime } from './in-time.ts';
import { pageLimit, readCursor, toPage } from './page.ts';
import { type Sql, transaction } from './transaction.ts';
import { outcomes } from './undertaking-outcomes.ts';
import { UNDERTAKING_COLUMNS as COLUMNS, HOLD_UNDERTAKING, recordOfUndertaking as recordOf, SETTLE } from './undertaking-rows.ts';
import type { NewUndertaking, UndertakingRecord, Undertakings } from './undertaking-types.ts';
import { uuidv7 } from './uuid.ts';

/** Workers look at it at once (as text, for the client of a transaction reads no void); what has no points is done. $10 the evaluations that are computed again. */
const CREATE = `with u as (
    insert into app.undertaking (id, team_id, kind, name, input, total, start_at, finish_by, repeat_at, status, finished_at)
    values ($1, $2, $3, $4, $5, $6, $7, $8, $9, case when $6 = 0 then 'done' else 'queued' end, case when $6 = 0 then now() end) returning *),
  again as (insert into app.reevaluated (undertaking_id, index, evaluation_id)
    select u.id, k - 1, e.id::uuid from u, jsonb_array_elements_text($10::jsonb) with ordinality as e(id, k))
  select ${COLUMNS}, pg_notify('${CHANNELS.changed}', u.id::text)::text from u`;

const GET = `select ${COLUMNS} from app.undertaking u where u.id = $1 and u.team_id = $2 and u.kind = $3`;

/** $1 team, $2 kind, $3 limit, $4 and $5 the place of the last one. */
const LIST = `select ${COLUMNS} from app.undertaking u
  where u.team_id = $1 and u.kind = $2 and ($4::timestamptz is null or (u.created_at, u.id) < ($4::timestamptz, $5::uuid))
  order by u.created_at desc, u.id desc limit $3`;

/** Members that have ended since the last step are counted too. $1 id. */
const PROGRESS = `
  with recent as (
    select m.settled_at from app.member m join app.undertaking u on u.id = m.undertaking_id
    where m.undertaking_id = $1 and m.settled_at > u.resumed_at order by m.settled_at desc limit 200),
  since as (
    select case when (select count(*) from recent) < 200 then u.resumed_at else (select min(settled_at) from recent) end as at
    from app.undertaking u where u.id = $1),
  open as (
    select count(*) filter (where e.status = 'running')::int as running, count(*) filter (where e.status = 'done')::int as done,
      count(*) filter (where e.status = 'failed')::int as failed, count(*) filter (where e.status = 'cancelled')::int as cancelled
    from app.member m join app.evaluation e on e.id = m.evaluation_id where m.undertaking_id = $1 and m.settled_at is null)
  select (select count(*)::int from recent) / nullif(extract(epoch from clock_timestamp() - since.at), 0)::float8 as per_second,
    open.running, u.done + open.done as done, u.failed + open.failed as failed, u.cancelled + open.cancelled as cancelled
  from app.undertaking u, since, open where u.id = $1`;

const REFUSED = `select index, errors from app.member where undertaking_id = $1 and errors is not null order by index limit 10`;

/** What has ended stays as it is; what is cancelled is ended by the next step, which is at once. $1 id, $2 team, $3 kind, $4 status, $5 total, $6 input. */
const CHANGE = `update app.undertaking set total = coalesce($5, total), input = coalesce($6::jsonb, input),
    status = case when $4 = 'running' and started_at is null then 'queued' else coalesce($4, status) end,
    resumed_at = case when $4 = 'running' and status = 'paused' then now() else resumed_at end,
    repeat_at = case when $4 = 'cancelled' then null else repeat_at end
  where id = $1 and team_id = $2 and kind = $3 and status not in ('done', 'cancelled', 'failed')
  returning pg_notify('${CHANNELS.changed}', id::text)`;

const DUE = `select id from app.undertaking where kind = $1 and (finished_at is null or repeat_at is not null) and (
    status = 'running' or status = 'cancelled' and finished_at is null or status = 'queued' and coalesce(start_at, now()) <= now()
    or status = 'paused' and (finish_by <= now() or begun > done + failed + cancelled) or repeat_at <= now())
  order by created_at`;

/** A new undertaking, inside a transaction or not. */
export async function createUndertaking(sql: Sql, teamId: string, made: NewUndertaking): Promise<UndertakingRecord> {
  const { kind, name, input, total, startAt = null, finishBy = null, repeatAt = null, earlier = [] } = made;
  const values = [uuidv7(), teamId, kind, name, JSON.stringify(input), total, startAt, finishBy, repeatAt, JSON.stringify(earlier)];
  const { rows } = await sql.query(CREATE, values);
  return recordOf(rows[0]);
}

export function undertakingRepository(pool: pg.Pool, { historyWithinMs = 2_000 }: { historyWithinMs?: number } = {}): Undertakings {
  const get: Undertakings['get'] = async (teamId, kind, id) => {
    const { rows } = await pool.query(GET, [id, teamId, kind]);
    return rows.length > 0 ? recordOf(rows[0]) : null;
  };
  return {
    create: (teamId, made) => createUndertaking(pool, teamId, made),
    get,
    async list(teamId, kind, page) {
      const limit = pageLimit(page);
      const after = readCursor(page, '-createdAt', 'time');
      const { rows } = await pool.query(LIST, [teamId, kind, limit + 1, after?.value ?? null, after?.id ?? null]);
      const place = ({ createdAt, id }: UndertakingRecord) => ({ sort: '-createdAt', value: createdAt.toISOString(), id });
      return toPage(rows.map(recordOf), limit, place, (each) => each);
    },
    async progress(id) {
      const [{ per_second: perSecond, ...counts }] = (await pool.query(PROGRESS, [id])).rows;
      return { counts, perSecond: perSecond || null };
    },
    outcomes: (teamId, id, query) => inTime(pool, historyWithinMs, (sql) => outcomes(sql, teamId, id, query)),
    refused: async (id) => (await pool.query(REFUSED, [id])).rows,
    async change(teamId, kind, id, { status, total, input }) {
      const changed = input === undefined ? null : JSON.stringify(input);
      await pool.query(CHANGE, [id, teamId, kind, status ?? null, total ?? null, changed]);
      return get(teamId, kind, id);
    },
    due: async (kind) => (await pool.query(DUE, [kind])).rows.map((row) => row.id),
    advance: (id, step) =>
      transaction(pool, async (sql) => {
        const { rowCount } = await sql.query(HOLD_UNDERTAKING, [id]);
        if (!rowCount) return [];
        const [row] = (await sql.query(SETTLE, [id])).rows;
        const { held, dispatch } = heldUndertaking(sql, recordOf(row), { now: row.now, open: row.open });
        await step(held);
        return dispatch;
      }),
  };
}
