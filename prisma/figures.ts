import { conditions } from './history-conditions.ts';
import { withVersions } from './history-versions.ts';
import { columnOf } from './quantities.ts';
import type { Evaluations } from './run-repositories.ts';
import type { Sql } from './transaction.ts';

/** Some quantities of all evaluations that a query means and that have them: no pages, no order. */
export async function figures(
  sql: Sql,
  ...[teamId, query, { quantities, most }]: Parameters<Evaluations['figures']>
): ReturnType<Evaluations['figures']> {
  const { stretch, numbers, rest, leaves, values } = conditions(teamId, await withVersions(sql, teamId, { ...query, limit: 1 }));
  const columns = quantities.map(columnOf);
  const all = [...stretch, ...[...numbers.values()].flat(), ...rest, ...columns.map((each) => `${each} is not null`), ...leaves];
  const text = `select id, engine_version, array[${columns.join(', ')}] as figures from app.evaluation where ${all.join(' and ')} limit ${most}`;
  return (await sql.query(text, values)).rows.map((row) => ({ id: row.id, engineVersion: row.engine_version, figures: row.figures }));
}
