import type { Scan, Sort } from '../openapi/index.ts';
import { conditions, NEWEST_FIRST, sortColumn, sortName } from './history-conditions.ts';
import { pageStatement } from './history-statement.ts';
import type { AskedHistory } from './history-versions.ts';
import { cursorAt, pageLimit } from './page.ts';
import type { Sql } from './transaction.ts';

/** Results looked into for one page: some thirty kilobytes each, so that a page takes a few hundred milliseconds at most. */
const LOOKED_INTO = 1000;

export interface Scanned {
  /** Of the page, in its order. */
  ids: string[];
  nextCursor: string | null;
  scan: Scan;
}

/**
 * The next page of a question that bounds numbers which no index holds: the evaluations that all else means are looked into one by one, in the order asked
 * for, until the page is full or so many are looked into. The cursor stands behind the last one looked into, so pages together miss none.
 */
export async function scanned(sql: Sql, teamId: string, query: AskedHistory): Promise<Scanned> {
  const sort: Sort = query.sort ?? NEWEST_FIRST;
  const asked = conditions(teamId, query, sort);
  const [column, direction] = [sortColumn(sort.by), sort.descending ? 'desc' : 'asc'];
  const text = `select id, ${column} as place, ${asked.leaves.map((each) => `coalesce(${each}, false)`).join(' and ')} as fits
    from (${pageStatement(query, asked, LOOKED_INTO + 1)}) looked order by ${column} ${direction}, id ${direction}`;
  const { rows } = await sql.query(text, asked.values);
  const fitting = rows.slice(0, LOOKED_INTO).flatMap(({ fits }, k) => (fits ? [k] : []));
  const limit = pageLimit(query);
  const page = fitting.slice(0, limit);
  const isFull = fitting.length > limit;
  const lookedAt = isFull ? page[limit - 1] + 1 : Math.min(rows.length, LOOKED_INTO);
  const complete = !isFull && rows.length <= LOOKED_INTO;
  const last = rows[lookedAt - 1];
  const value = last?.place instanceof Date ? last.place.toISOString() : last?.place;
  return {
    ids: page.map((k) => rows[k].id),
    nextCursor: complete ? null : cursorAt({ sort: sortName(sort), value, id: last.id }),
    scan: { lookedAt, complete },
  };
}
