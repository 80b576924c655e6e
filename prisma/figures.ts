import { SUMMARY_COLUMNS, summaryOfRow } from './evaluation-rows.ts';
import { conditions } from './history.ts';
import { columnOf } from './quantities.ts';
import type { EvaluationSummary } from './run-records.ts';
import type { Evaluations } from './run-repositories.ts';
import type { Sql } from './transaction.ts';

/** Some quantities of all evaluations that a query means and that have them: no pages, no order. */
export async function figures(
  sql: Sql,
  ...[teamId, query, { quantities, most }]: Parameters<Evaluations['figures']>
): ReturnType<Evaluations['figures']> {
  const { stretch, numbers, rest, values } = conditions(teamId, query);
  const columns = quantities.map(columnOf);
  const text = `select id, array[${columns.join(', ')}] as figures from app.evaluation
    where ${[...stretch, ...[...numbers.values()].flat(), ...rest, ...columns.map((each) => `${each} is not null`)].join(' and ')} limit ${most}`;
  return (await sql.query(text, values)).rows.map((row) => ({ id: row.id, figures: row.figures }));
}

/** $1 team, $2 ids. */
const SUMMARIES = `select ${SUMMARY_COLUMNS} from app.evaluation e join app.computation c on c.id = e.computation_id
  left join app.version v on v.id = e.version_id where e.team_id = $1 and e.id = any($2::uuid[])`;

/** The lines of history of these, in their order. */
export async function summaries(sql: Sql, teamId: string, ids: readonly string[]): Promise<EvaluationSummary[]> {
  const { rows } = await sql.query(SUMMARIES, [teamId, ids]);
  const found = new Map(rows.map(summaryOfRow).map((each) => [each.id, each]));
  return ids.flatMap((id) => found.get(id) ?? []);
}
