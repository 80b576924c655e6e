import { conditions } from './history-conditions.ts';
import { withVersions } from './history-versions.ts';
import { columnOf } from './quantities.ts';
import type { Evaluations } from './run-repositories.ts';
import type { Sql } from './transaction.ts';

/** What was asked of the evaluations that a query means and that have a quantity: those drawn, in no order (that of the hashes of their ids). */
export async function selected(
  sql: Sql,
  ...[teamId, query, { quantity, most, drawn }]: Parameters<Evaluations['selected']>
): ReturnType<Evaluations['selected']> {
  const { stretch, numbers, rest, leaves, values } = conditions(teamId, await withVersions(sql, teamId, { ...query, limit: 1 }));
  const column = columnOf(quantity);
  const all = [...stretch, ...[...numbers.values()].flat(), ...rest, `${column} is not null`, ...leaves];
  const text = `
    with meant as materialized (select id from app.evaluation where ${all.join(' and ')} limit ${most + 1}),
    drawn as (select id, count(*) over ()::int as finished from meant order by md5(id::text), id limit ${drawn})
    select drawn.finished, e.engine_version, e.${column} as value, e.input -> 'parameterSet' as parameter_set,
      e.input #>> '{material,key}' as material, e.input #>> '{buildVolume,key}' as build_volume
    from drawn join app.evaluation e on e.id = drawn.id order by md5(drawn.id::text), drawn.id`;
  const { rows } = await sql.query(text, values);
  return {
    finished: Math.min(rows[0]?.finished ?? 0, most),
    complete: (rows[0]?.finished ?? 0) <= most,
    rows: rows.map(({ value, engine_version: engineVersion, parameter_set: parameterSet, material, build_volume: buildVolume }) => ({
      ...{ value, engineVersion, parameterSet, material, buildVolume },
    })),
  };
}
