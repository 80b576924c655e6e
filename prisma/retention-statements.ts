/** SQL of what a team's rules let go. $1 team, $2 days, $3 most. */

const OLD = `c.finished_at < now() - $2::int * interval '1 day'`;

/** Files that were ordered, and the runs that made them. */
const MADE = `app.computation c join app.file f on f.computation_id = (c.input ->> 'of')::uuid and f.name = c.input ->> 'stored'
  where c.team_id = $1 and c.kind = 'file' and c.status = 'done' and ${OLD}`;

export const COUNT_FILES = `select count(*)::int as n, coalesce(sum(bytes), 0) as bytes from (
  select octet_length(f.content) as bytes from ${MADE} limit $3) counted`;

/** The run goes too, so that who orders the file again has it made again. */
export const REMOVE_FILES = `
  with old as (select c.id, f.id as file_id, octet_length(f.content) as bytes from ${MADE} order by c.finished_at limit $3 for update of c skip locked),
  files as (delete from app.file where id in (select file_id from old)),
  runs as (delete from app.computation where id in (select id from old))
  select bytes from old`;

/** A search names it: as its best, or in its ranking. */
const NAMED = `u.outcome #>> '{best,evaluationId}' = e.id::text
  or u.outcome -> 'ranking' @> jsonb_build_array(jsonb_build_object('evaluationId', e.id))`;

/** A point of batches and searches alone, all of which have ended; nobody asked for it, and it belongs to no version. */
const POINT = `c.team_id = $1 and c.kind = 'evaluation' and c.status = 'done' and c.thinned_at is null and ${OLD}
  and exists (select from app.evaluation e where e.computation_id = c.id)
  and not exists (select from app.evaluation e where e.computation_id = c.id and (
    e.asked_for or e.version_id is not null
    or not exists (select from app.member m where m.evaluation_id = e.id)
    or exists (select from app.member m join app.undertaking u on u.id = m.undertaking_id
      where m.evaluation_id = e.id and (u.kind not in ('batch', 'search') or u.finished_at is null or ${NAMED}))))`;

export const COUNT_RESULTS = `select count(*)::int as n, coalesce(sum(bytes), 0) as bytes from (
  select pg_column_size(c.result) as bytes from app.computation c where ${POINT} limit $3) counted`;

export const HOLD_RESULTS = `select c.id from app.computation c where ${POINT} order by c.finished_at limit $3 for update of c skip locked`;

/** $3 ids that are held. */
export const THIN = `
  with old as (select c.id, pg_column_size(c.result) as bytes from app.computation c where c.id = any($3::uuid[]) and ${POINT})
  update app.computation c set thinned_at = now(), result = null,
    quantities = coalesce(c.quantities, '{}') || jsonb_build_object('verdict', c.result #>> '{printability,verdict}')
  from old where c.id = old.id returning old.bytes`;
