import type { Quantity } from '../openapi/index.ts';
import { columnOf } from './quantities.ts';
import type { Sql } from './transaction.ts';
import type { Outcomes, OutcomesQuery } from './undertaking-types.ts';

/** Where what is varied stands in an evaluation's input. */
const placeOf = (path: string): string[] => (path === 'material' || path === 'buildVolume' ? [path] : ['parameterSet', ...path.split('.')]);

/**
 * Finished members that have every quantity: those drawn, in no order (that of the hashes of their places), and how many there are. $1 team, $2 undertaking,
 * $3 most, from $4 on the places of the paths.
 */
function statement(paths: readonly string[], quantities: readonly Quantity[]): string {
  const columns = quantities.map((each) => `e.${columnOf(each)}`);
  const settings = paths.map((_, k) => `e.input #> $${k + 4}::text[]`);
  return `
    with drawn as (
      select e.id, m.index, count(*) over ()::int as finished
      from app.member m join app.evaluation e on e.id = m.evaluation_id
      where m.undertaking_id = $2 and e.team_id = $1 and e.status = 'done' and ${columns.map((each) => `${each} is not null`).join(' and ')}
      order by md5(m.index::text), m.index limit $3)
    select drawn.finished, jsonb_build_array(${settings.join(', ')}) as settings, array[${columns.join(', ')}] as values, e.engine_version
    from drawn join app.evaluation e on e.id = drawn.id order by md5(drawn.index::text), drawn.index`;
}

export async function outcomes(sql: Sql, teamId: string, undertakingId: string, query: OutcomesQuery): Promise<Outcomes> {
  const { paths, quantities, most } = query;
  const { rows } = await sql.query(statement(paths, quantities), [teamId, undertakingId, most, ...paths.map(placeOf)]);
  return {
    finished: rows[0]?.finished ?? 0,
    rows: rows.map(({ settings, values, engine_version: engineVersion }) => ({ settings, values, engineVersion })),
  };
}
