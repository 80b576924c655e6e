import type { FieldError } from '../openapi/index.ts';
import { submit } from './submit.ts';
import type { Sql } from './transaction.ts';
import type { HeldUndertaking, UndertakingRecord } from './undertaking-types.ts';
import { uuidv7 } from './uuid.ts';

/** The next point in order becomes a member. $1 undertaking, $2 index, $3 evaluation, $4 errors, $5 the version of the engine that computes it. */
const ADD = `with added as (
    insert into app.member (undertaking_id, index, evaluation_id, errors, settled_at)
    values ($1, $2, $3, $4::jsonb, case when $4 is not null then now() end))
  update app.undertaking set begun = $2 + 1, failed = failed + case when $4 is not null then 1 else 0 end,
    engine_versions = case when $5::text is null then engine_versions
      else engine_versions || jsonb_build_object($5::text, coalesce((engine_versions ->> $5::text)::int, 0) + 1) end where id = $1`;

/** $1 undertaking, $2 first index, $3 most. */
const EARLIER = `select e.input, e.design_id as "designId", e.version_id as "versionId"
  from app.reevaluated r join app.evaluation e on e.id = r.evaluation_id
  where r.undertaking_id = $1 and r.index >= $2 order by r.index limit $3`;

const ENDED = `select m.index, m.evaluation_id, case when m.errors is not null then 'failed' else e.status end as status,
    case when e.status = 'done' then c.result end as result
  from app.member m left join app.evaluation e on e.id = m.evaluation_id left join app.computation c on c.id = e.computation_id
  where m.undertaking_id = $1 and m.settled_at is not null and m.index >= $2 order by m.index`;

const OPEN = `select m.evaluation_id as id from app.member m join app.evaluation e on e.id = m.evaluation_id
  where m.undertaking_id = $1 and m.settled_at is null and not e.asked_for and not exists (
    select from app.member o where o.evaluation_id = m.evaluation_id and o.undertaking_id <> m.undertaking_id and o.settled_at is null)`;

/** Members that others wait for as well are waited for no longer: counted as cancelled here, they go on there. $1 undertaking. */
const LET_GO = `with gone as (update app.member set settled_at = now() where undertaking_id = $1 and settled_at is null returning 1)
  update app.undertaking set cancelled = cancelled + (select count(*) from gone) where id = $1`;

/** $1 id, $2 status, $3 outcome, $4 whether repeat_at changes, $5 repeat_at. */
const UPDATE = `update app.undertaking set status = coalesce($2, status), outcome = coalesce($3::jsonb, outcome),
    repeat_at = case when $4 then $5 else repeat_at end,
    started_at = case when $2 = 'running' then coalesce(started_at, now()) else started_at end,
    resumed_at = case when $2 = 'running' then now() else resumed_at end,
    finished_at = case when $2 in ('done', 'cancelled', 'failed') then now() else finished_at end
  where id = $1`;

/** $1 new id, $2 the one it repeats, $3 input, $4 finish_by, $5 repeat_at. */
const AGAIN = `insert into app.undertaking (id, team_id, kind, name, input, total, finish_by, repeat_at)
  select $1, team_id, kind, name, $3, total, $4, $5 from app.undertaking where id = $2`;

/** What one step may do, inside its transaction; `dispatch` grows with the computations it queues. */
export function heldUndertaking(
  sql: Sql,
  record: UndertakingRecord,
  { now, open }: { now: Date; open: number },
): { held: HeldUndertaking; dispatch: string[] } {
  const { id, teamId } = record;
  const dispatch: string[] = [];
  let next = record.begun;
  const add = (member: { evaluationId?: string; engineVersion?: string; errors?: readonly FieldError[] }) =>
    sql.query(ADD, [id, next++, member.evaluationId, member.errors && JSON.stringify(member.errors), member.engineVersion]);
  const held: HeldUndertaking = {
    ...{ record, now, open },
    async submit(submission) {
      const { evaluation, dispatch: computationId } = await submit(sql, teamId, { ...submission, askedFor: false });
      if (computationId) dispatch.push(computationId);
      await add({ evaluationId: evaluation.id, engineVersion: submission.engineVersion });
    },
    async refuse(errors) {
      await add({ errors });
    },
    earlier: async (from, most) => (await sql.query(EARLIER, [id, from, most])).rows,
    ended: async (from = 0) =>
      (await sql.query(ENDED, [id, from])).rows.map(({ evaluation_id: evaluationId, ...rest }) => ({ evaluationId, ...rest })),
    openEvaluations: async () => (await sql.query(OPEN, [id])).rows.map((row) => row.id),
    async letGo() {
      await sql.query(LET_GO, [id]);
    },
    async update({ status, outcome, repeatAt }) {
      await sql.query(UPDATE, [
        id,
        status ?? null,
        outcome === undefined ? null : JSON.stringify(outcome),
        repeatAt !== undefined,
        repeatAt ?? null,
      ]);
    },
    async again({ input, finishBy, repeatAt }) {
      await sql.query(AGAIN, [uuidv7(), id, JSON.stringify(input), finishBy, repeatAt]);
    },
  };
  return { held, dispatch };
}
