import type pg from 'pg';
import { CHANNELS } from '../openapi/index.ts';
import { RECORD_COLUMNS, recordOfRow } from './evaluation-rows.ts';
import { states } from './evaluation-states.ts';
import { figures } from './figures.ts';
import { exportedHistory, history, summaries } from './history.ts';
import { inTime } from './in-time.ts';
import type { Evaluations } from './run-repositories.ts';
import { selected } from './selected.ts';
import { submit } from './submit.ts';
import { type Sql, transaction } from './transaction.ts';

const GET = `select ${RECORD_COLUMNS}
  from app.evaluation e join app.computation c on c.id = e.computation_id left join app.version v on v.id = e.version_id
  where e.id = $1 and e.team_id = $2`;

/** $1 team, $2 and $3 versions. */
const NEWEST_ALIKE = `select l.id as left, r.id as right
  from app.evaluation l join app.computation lc on lc.id = l.computation_id,
    app.evaluation r join app.computation rc on rc.id = r.computation_id
  where l.team_id = $1 and r.team_id = $1 and l.version_id = $2 and r.version_id = $3 and l.status = 'done' and r.status = 'done'
    and l.input - '{parameterSet,build}'::text[] = r.input - '{parameterSet,build}'::text[] and lc.engine_version = rc.engine_version
  order by greatest(l.created_at, r.created_at) desc, least(l.created_at, r.created_at) desc, l.id desc, r.id desc limit 1`;

/** $1 team, $2 version, $3 key of the material, $4 key of the build volume. */
const NEWEST_OF = `select e.id from app.evaluation e
  where e.team_id = $1 and e.version_id = $2 and e.status = 'done' and e.input -> 'material' ->> 'key' = $3
  order by coalesce(e.input -> 'tests' ->> 'depth', 'geometry') <> 'geometry' desc,
    coalesce(e.input -> 'buildVolume' ->> 'key' = $4, false) desc, e.created_at desc, e.id desc limit 1`;

/** The computation is held before its evaluations are looked at, as in every other change, so that "no other live one" stays true. */
const HOLD = `select c.id from app.computation c join app.evaluation e on e.computation_id = c.id
  where e.id = $1 and e.team_id = $2 for update of c`;

const CANCEL = `update app.evaluation set status = 'cancelled', finished_at = now()
  where id = $1 and status in ('queued', 'running') returning id`;

/** Queued: cancelled at once. Running: asked to stop. Nothing while another evaluation waits for it. */
const CANCEL_COMPUTATION = `
  with asked as (
    update app.computation c set cancel_requested_at = now(),
      status = case when status = 'queued' then 'cancelled' else status end,
      finished_at = case when status = 'queued' then now() end
    where id = $1 and status in ('queued', 'running') and not exists (
      select from app.evaluation e where e.computation_id = c.id and e.status in ('queued', 'running'))
    returning id)
  select id, pg_notify($2, id::text), pg_notify($3, id::text) from asked`;

async function cancel(sql: Sql, teamId: string, id: string): Promise<string | null> {
  const computation = (await sql.query(HOLD, [id, teamId])).rows[0]?.id;
  if (!computation) return null;
  const { rowCount } = await sql.query(CANCEL, [id]);
  if (!rowCount) return null;
  const { rows } = await sql.query(CANCEL_COMPUTATION, [computation, CHANNELS.cancel, CHANNELS.changed]);
  return rows[0]?.id ?? null;
}

/** Evaluations of teams. Sharing: the last live evaluation of a computation takes it along when it is cancelled. */
export function evaluationRepository(
  pool: pg.Pool,
  { historyWithinMs = 2_000, exportWithinMs = 30_000 }: { historyWithinMs?: number; exportWithinMs?: number } = {},
): Evaluations {
  const get = async (teamId: string, id: string) => {
    const { rows } = await pool.query(GET, [id, teamId]);
    return rows.length > 0 ? recordOfRow(rows[0]) : null;
  };
  return {
    get,
    submit: (teamId, submission) => submit(pool, teamId, submission),
    states: (teamId, query) => states(pool, teamId, query),
    list: (teamId, query) => inTime(pool, historyWithinMs, (sql) => history(sql, teamId, query)),
    figures: (teamId, query, which) => inTime(pool, historyWithinMs, (sql) => figures(sql, teamId, query, which)),
    selected: (teamId, query, which) => inTime(pool, historyWithinMs, (sql) => selected(sql, teamId, query, which)),
    summaries: (teamId, ids) => summaries(pool, teamId, ids),
    exported: (teamId, query) => inTime(pool, exportWithinMs, (sql) => exportedHistory(sql, teamId, query)),
    async newestAlike(teamId, leftVersion, rightVersion) {
      const [pair] = (await pool.query(NEWEST_ALIKE, [teamId, leftVersion, rightVersion])).rows;
      if (!pair) return null;
      const [left, right] = [await get(teamId, pair.left), await get(teamId, pair.right)];
      return left && right && { left, right };
    },
    async newestOf(teamId, { versionId, material, buildVolume }) {
      const [found] = (await pool.query(NEWEST_OF, [teamId, versionId, material, buildVolume])).rows;
      return found ? get(teamId, found.id) : null;
    },
    async cancel(teamId, id) {
      const cancelComputation = await transaction(pool, (sql) => cancel(sql, teamId, id));
      const evaluation = await get(teamId, id);
      return evaluation && { evaluation, cancelComputation };
    },
  };
}
