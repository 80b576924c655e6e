import { type Drift, inOrder, MOST_TOLD, QUANTITIES } from '../openapi/index.ts';
import { columnOf } from './quantities.ts';
import type { Sql } from './transaction.ts';

/** SQL: the evaluations `o` that an undertaking ($1) computes again, each with the new one `n`, where its turn has come. */
export const PAIRS = `app.reevaluated r
  join app.evaluation o on o.id = r.evaluation_id join app.computation oc on oc.id = o.computation_id
  left join app.member m on m.undertaking_id = r.undertaking_id and m.index = r.index
  left join app.evaluation n on n.id = m.evaluation_id left join app.computation nc on nc.id = n.computation_id`;
const ENDED = `r.undertaking_id = $1 and n.status in ('done', 'failed')`;

const VERSIONS = `select oc.engine_version as earlier, nc.engine_version as again, count(*)::int as n from ${PAIRS} where ${ENDED} group by 1, 2`;

const VALUES = QUANTITIES.map((each) => `('${each}', o.${columnOf(each)}, n.${columnOf(each)})`).join(', ');
/** What became of each quantity; of the largest change the place of its pair. */
const MOVED = `
  select q.name as quantity, count(*) filter (where both_have)::int as compared, count(*) filter (where moved)::int as moved,
    percentile_cont(0.5) within group (order by pct) filter (where moved and pct is not null) as median,
    (array_agg(r.index order by abs(pct) desc, r.index) filter (where moved and pct is not null))[1] as largest,
    count(*) filter (where a is null)::int as gained, count(*) filter (where b is null)::int as lost
  from ${PAIRS} cross join lateral (
    select name, a, b, a is not null and b is not null as both_have, a <> b as moved, 100 * (b - a) / nullif(abs(a), 0) as pct
    from (values ${VALUES}) as v(name, a, b) where a is not null or b is not null) q
  where ${ENDED} and o.status = 'done' and n.status = 'done' group by q.name`;

/** The pairs at these places ($2) with all their numbers. */
const AT = `select r.index, o.id as earlier, n.id as again, jsonb_object_agg(v.name, array[v.a, v.b]) as numbers
  from ${PAIRS} cross join lateral (values ${VALUES}) as v(name, a, b)
  where r.undertaking_id = $1 and r.index = any($2::int[]) group by r.index, o.id, n.id`;

/** Pairs that came to another end, the first of each kind. */
const ENDS = `
  select * from (
    select *, count(*) over (partition by kind)::int as n, row_number() over (partition by kind order by index) as place from (
      select r.index, o.id as "evaluationId", n.id as again, o.verdict as "from", n.verdict as "to",
        coalesce(nc.error, oc.error) ->> 'code' as code, coalesce(nc.error, oc.error) ->> 'message' as message,
        case when o.status = 'done' and n.status = 'failed' then 'newFailures' when o.status = 'failed' and n.status = 'done' then 'pastFailures'
          when o.verdict <> n.verdict then 'verdicts' end as kind
      from ${PAIRS} where ${ENDED}) ended where kind is not null) told
  where place <= ${MOST_TOLD} order by index`;

/** What another version of the engine made of the pairs that have ended. */
export async function drift(sql: Sql, id: string): Promise<Drift> {
  const versions = (await sql.query(VERSIONS, [id])).rows;
  const moved = (await sql.query(MOVED, [id])).rows;
  const places = [...new Set(moved.flatMap(({ largest }) => largest ?? []))];
  const at = new Map((await sql.query(AT, [id, places])).rows.map((row) => [row.index, row]));
  const ends = (await sql.query(ENDS, [id])).rows;
  const counted = (side: 'earlier' | 'again') => {
    const counts: Record<string, number> = {};
    for (const row of versions) counts[row[side]] = (counts[row[side]] ?? 0) + row.n;
    return inOrder(counts);
  };
  const told = (kind: string, ...names: string[]) => {
    const items = ends.filter((each) => each.kind === kind);
    const shown = items.map((each) => Object.fromEntries(['evaluationId', 'again', ...names].map((name) => [name, each[name]])));
    return { count: items[0]?.n ?? 0, items: shown } as never;
  };
  return {
    pairs: versions.reduce((sum, { n }) => sum + n, 0),
    ...{ earlier: counted('earlier'), again: counted('again') },
    quantities: QUANTITIES.flatMap((quantity) => moved.filter((each) => each.quantity === quantity)).map(
      ({ quantity, compared, moved: count, median, largest, gained, lost }) => ({
        ...{ quantity, compared, moved: count, medianPct: median, largest: largestOf(at.get(largest), quantity), gained, lost },
      }),
    ),
    verdicts: told('verdicts', 'from', 'to'),
    newFailures: told('newFailures', 'code', 'message'),
    pastFailures: told('pastFailures', 'code', 'message'),
  };
}

function largestOf(pair: Record<string, never> | undefined, quantity: string): Drift['quantities'][number]['largest'] {
  if (!pair) return null;
  const [left, right] = pair.numbers[quantity] as [number, number];
  return { evaluationId: pair.earlier, again: pair.again, left, right, changePct: (100 * (right - left)) / Math.abs(left) };
}
