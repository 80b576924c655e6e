import type { ReevaluationSelection } from '../openapi/index.ts';
import type { Outdated } from './reevaluation-types.ts';
import type { Sql } from './transaction.ts';

/** Finished evaluations that a selection means. $1 team; values from $2 on are added. */
function meant({ designId, versionIds, evaluationIds, tag, engineVersion }: ReevaluationSelection) {
  const values: unknown[] = [];
  const bound = (value: unknown) => `$${values.push(value) + 1}`;
  const held = [`e.team_id = $1`, `e.status in ('done', 'failed')`];
  if (designId !== undefined) held.push(`e.design_id = ${bound(designId)}`);
  if (versionIds !== undefined) held.push(`e.version_id = any(${bound(versionIds)}::uuid[])`);
  if (evaluationIds !== undefined) held.push(`e.id = any(${bound(evaluationIds)}::uuid[])`);
  if (engineVersion !== undefined) held.push(`e.engine_version = ${bound(engineVersion)}`);
  if (tag !== undefined)
    held.push(`e.version_id = any(array(select v.id from app.version v join app.design d on d.id = v.design_id
      where d.team_id = $1 and (v.tags @> array[${bound(tag)}::text] or d.tags @> array[$${values.length + 1}::text])))`);
  return { from: `app.evaluation e where ${held.join(' and ')}`, values, bound };
}

/** $1 team, $2 versions, $3 evaluations, $4 design or null. */
const UNKNOWN = `select
    array(select id from unnest($2::uuid[]) as given(id) where not exists (
      select from app.version v join app.design d on d.id = v.design_id where v.id = given.id and d.team_id = $1)) as versions,
    array(select id from unnest($3::uuid[]) as given(id) where not exists (
      select from app.evaluation e where e.id = given.id and e.team_id = $1)) as evaluations,
    $4::uuid is not null and not exists (select from app.design where id = $4 and team_id = $1) as design`;

/** Which evaluations of a selection another version of the engine computed, and how many this one did. */
export async function outdated(
  sql: Sql,
  teamId: string,
  selection: ReevaluationSelection,
  { engineVersion, most }: { engineVersion: string; most: number },
): Promise<Outdated> {
  const { designId, versionIds = [], evaluationIds = [] } = selection;
  const [unknown] = (await sql.query(UNKNOWN, [teamId, versionIds, evaluationIds, designId ?? null])).rows;
  const { from, values, bound } = meant(selection);
  const current = bound(engineVersion);
  const old = `select e.id from ${from} and e.engine_version <> ${current} order by e.created_at, e.id limit ${most + 1}`;
  const { rows } = await sql.query(old, [teamId, ...values]);
  const same = `select count(*)::int as n from (select from ${from} and e.engine_version = ${current} limit ${most + 1}) counted`;
  const [{ n }] = (await sql.query(same, [teamId, ...values])).rows;
  return {
    ids: rows.map(({ id }) => id),
    upToDate: n,
    unknown: { ...(unknown.design && { designId }), versionIds: unknown.versions, evaluationIds: unknown.evaluations },
  };
}
