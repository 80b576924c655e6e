import { KNOWN_BY, MOST_FOLLOWERS, type ParameterSet } from '../openapi/index.ts';
import { pageLimit, readCursor, toPage } from './page.ts';
import { columnOf } from './quantities.ts';
import type { Page, PageRequest } from './records.ts';
import type { LineageRecord } from './repositories.ts';
import type { Sql } from './transaction.ts';

const RELATIVE = `jsonb_build_object('versionId', f.id, 'designId', f.design_id, 'number', f.number)`;
const NUMBERS = KNOWN_BY.map((each) => `'${each}', e.${columnOf(each)}`).join(', ');

/** Versions of a design with what is known of each, the newest first. $1 team, $2 design, $3 limit, $4 the last number of the page before. */
const LINEAGE = `
  select v.id, v.number, v.parameter_set, left(split_part(v.notes, E'\\n', 1), 200) as note, v.tags, v.created_at,
    p.id as parent_id, p.number as parent_number, p.design_id as parent_design_id, p.parameter_set as parent_set, pd.name as parent_design,
    (select count(*)::int from app.version f where f.based_on_id = v.id) as follower_count,
    coalesce((select jsonb_agg(${RELATIVE} order by f.created_at, f.id) from (
      select * from app.version f where f.based_on_id = v.id order by f.created_at, f.id limit ${MOST_FOLLOWERS}) f), '[]') as followers,
    (select count(*)::int from app.print r where r.version_id = v.id and r.archived_at is null) as prints,
    (select count(*)::int from app.measurement m join app.print r on r.id = m.print_id
      where r.version_id = v.id and r.archived_at is null and m.archived_at is null) as measurements,
    e.id as evaluation_id, e.engine_version, e.finished_at, e.verdict, e.quantities,
    a.id as acceptance_id, a.verdict as decided, a.created_at as decided_at
  from app.version v join app.design d on d.id = v.design_id
    left join app.version p on p.id = v.based_on_id left join app.design pd on pd.id = p.design_id
    left join lateral (
      select e.id, c.engine_version, e.finished_at, e.verdict, jsonb_build_object(${NUMBERS}) as quantities
      from app.evaluation e join app.computation c on c.id = e.computation_id
      where e.version_id = v.id and e.status = 'done' order by e.created_at desc, e.id desc limit 1) e on true
    left join lateral (
      select a.* from app.acceptance a where a.version_id = v.id order by a.created_at desc, a.id desc limit 1) a on true
  where d.team_id = $1::uuid and v.design_id = $2::uuid and ($4::int is null or v.number < $4::int)
  order by v.number desc limit $3::int`;

/** One page of the versions of a design, in one statement however many they are; of a design that there is. */
export async function lineage(sql: Sql, teamId: string, designId: string, page: PageRequest): Promise<Page<LineageRecord>> {
  const limit = pageLimit(page);
  const after = readCursor(page, '-number', 'number');
  const { rows } = await sql.query(LINEAGE, [teamId, designId, limit + 1, after ? Number(after.value) : null]);
  return toPage(
    rows.map(recordOf),
    limit,
    ({ number, id }) => ({ sort: '-number', value: number, id }),
    (each) => each,
  );
}

const recordOf = (row: Record<string, unknown>): LineageRecord =>
  ({
    ...{ id: row.id, number: row.number, parameterSet: row.parameter_set, note: row.note, tags: row.tags, createdAt: row.created_at },
    basedOn: row.parent_id && {
      ...{ versionId: row.parent_id, designId: row.parent_design_id, number: row.parent_number, designName: row.parent_design },
      parameterSet: row.parent_set as ParameterSet,
    },
    ...{ followers: row.followers, followerCount: row.follower_count, prints: row.prints, measurements: row.measurements },
    evaluation: row.evaluation_id && {
      ...{ evaluationId: row.evaluation_id, engineVersion: row.engine_version, finishedAt: row.finished_at },
      ...{ verdict: row.verdict, quantities: row.quantities },
    },
    decision: row.acceptance_id && { acceptanceId: row.acceptance_id, verdict: row.decided, createdAt: row.decided_at },
  }) as LineageRecord;
