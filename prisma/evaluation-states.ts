import type { EvaluationState, StatesQuery } from './run-records.ts';
import type { Sql } from './transaction.ts';

/** More are not followed at once. */
const MOST = 1000;

/** The clock is read before the rows: what changes after it is seen by the next reading. $1 team, $2 ids, $3 whether live ones, $4 since. */
const STATES = `select now() as at, s.* from (select 1) as one left join lateral (
    select e.id, e.computation_id, e.status, c.stage, c.progress_pct
    from app.evaluation e join app.computation c on c.id = e.computation_id
    where e.team_id = $1 and (e.id = any($2::uuid[]) or $3 and (e.finished_at is null or e.finished_at >= $4))
    order by e.created_at desc, e.id desc limit ${MOST}) s on true`;

/** How far evaluations are, and the database's time at which that was so. */
export async function states(sql: Sql, teamId: string, { ids, live }: StatesQuery): Promise<{ at: Date; states: EvaluationState[] }> {
  const { rows } = await sql.query(STATES, [teamId, ids, live !== undefined, live?.finishedSince ?? null]);
  const found = rows.filter((row) => row.id !== null);
  const state = (row: Record<string, unknown>) =>
    ({
      id: row.id,
      computationId: row.computation_id,
      status: row.status,
      stage: row.stage,
      progressPct: row.progress_pct,
    }) as EvaluationState;
  return { at: rows[0].at, states: found.map(state) };
}
