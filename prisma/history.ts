import type { Filter, Quantity, Sort } from '../openapi/index.ts';
import { SUMMARY_COLUMNS, summaryOfRow } from './evaluation-rows.ts';
import { pageLimit, readCursor, toPage } from './page.ts';
import { columnOf } from './quantities.ts';
import type { Page } from './records.ts';
import type { EvaluationSummary, ExportedEvaluation } from './run-records.ts';
import type { HistoryQuery } from './run-repositories.ts';
import type { Sql } from './transaction.ts';

const NEWEST_FIRST: Sort = { by: 'createdAt', descending: true };
const COMPARISONS: Record<Filter['op'], string> = { gte: '>=', gt: '>', lte: '<=', lt: '<', eq: '=' };

const sortName = ({ by, descending }: Sort) => `${descending ? '-' : ''}${by}`;
const sortColumn = (by: Sort['by']) => (by === 'createdAt' ? 'created_at' : columnOf(by));
const sortValue = (by: Sort['by'], item: EvaluationSummary) =>
  by === 'createdAt' ? item.createdAt.toISOString() : Number(item.quantities[by as Quantity]);

/** The version has the tag, or its design has it; both of the team, which is $1. */
const tagged = (tag: string) => `version_id in (select v.id from app.version v join app.design d on d.id = v.design_id
    where d.team_id = $1 and (v.tags @> array[${tag}::text] or d.tags @> array[${tag}::text]))`;

/** An undertaking is of the team that its members are of. As an array they are read once, and an index then leads to each. */
const memberOf = (undertaking: string) =>
  `id = any(array(select m.evaluation_id from app.member m where m.undertaking_id = ${undertaking}))`;

interface Conditions {
  /** On the team and on what is sorted by: one stretch of an index. */
  readonly stretch: string[];
  /** On another number each, or on the time: a stretch of its index. */
  readonly numbers: ReadonlyMap<Sort['by'], string[]>;
  /** On anything else. */
  readonly rest: string[];
  readonly values: unknown[];
}

/** Conditions of a query in SQL and their values; the columns are those of app.evaluation. */
export function conditions(teamId: string, query: Omit<HistoryQuery, 'limit'>, sort: Sort = NEWEST_FIRST): Conditions {
  const values: unknown[] = [teamId];
  const bound = (value: unknown) => `$${values.push(value)}`;
  const stretch = ['team_id = $1'];
  const numbers = new Map<Sort['by'], string[]>();
  const rest: string[] = [];
  const hold = (by: Sort['by'], condition: string) => {
    if (by === sort.by) stretch.push(condition);
    else numbers.set(by, [...(numbers.get(by) ?? []), condition]);
  };
  const equal = { status: query.status, verdict: query.verdict, design_id: query.designId, version_id: query.versionId };
  for (const [column, value] of Object.entries(equal)) if (value !== undefined) rest.push(`${column} = ${bound(value)}`);
  if (query.undertakingId !== undefined) rest.push(memberOf(bound(query.undertakingId)));
  if (query.tag !== undefined) rest.push(tagged(bound(query.tag)));
  for (const { quantity, op, value } of query.filters ?? []) {
    hold(quantity, `${columnOf(quantity)} ${COMPARISONS[op]} ${bound(value)}`);
  }
  if (query.createdFrom !== undefined) hold('createdAt', `created_at >= ${bound(query.createdFrom)}::timestamptz`);
  if (query.createdTo !== undefined) hold('createdAt', `created_at <= ${bound(query.createdTo)}::timestamptz`);
  const column = sortColumn(sort.by);
  const timed = sort.by === 'createdAt';
  if (!timed) stretch.push(`${column} is not null`);
  const after = readCursor(query, sortName(sort), timed ? 'time' : 'number');
  if (after) {
    const value = `${bound(after.value)}::${timed ? 'timestamptz' : 'double precision'}`;
    stretch.push(`(${column}, id) ${sort.descending ? '<' : '>'} (${value}, ${bound(after.id)}::uuid)`);
  }
  return { stretch, numbers, rest, values };
}

/**
 * So many rows are looked at in the order asked for before all that the other conditions mean are looked up and sorted. In the order of time they lie side
 * by side, in any other each on a page of its own.
 */
const LOOKED_AT = { time: 20_000, number: 4000 };

/** Few rows, or an index that holds the order too. */
const isNarrow = ({ designId, versionId, undertakingId }: HistoryQuery) => Boolean(designId ?? versionId ?? undertakingId);
const hasOwnOrder = ({ status, verdict, tag, sort = NEWEST_FIRST }: HistoryQuery, others: number) =>
  others === 0 || (others === 1 && sort.by === 'createdAt' && tag === undefined && (status ?? verdict) !== undefined);

/**
 * SQL: the evaluations of a page. How numbers hang together nobody tells the server, so it cannot know whether the first fifty in an order are
 * soon found or only behind all the others: a stretch of the order is looked at, and when that does not fill the page, the other conditions lead.
 */
function pageStatement(query: HistoryQuery, asked: Conditions): string {
  const { by, descending } = query.sort ?? NEWEST_FIRST;
  const { stretch, numbers, rest } = asked;
  const direction = descending ? 'desc' : 'asc';
  const order = `order by ${sortColumn(by)} ${direction}, id ${direction}`;
  const limit = pageLimit(query) + 1;
  const others = [...[...numbers.values()].flat(), ...rest];
  const all = [...stretch, ...others].join(' and ');
  if (hasOwnOrder(query, others.length)) return `select * from app.evaluation where ${all} ${order} limit ${limit}`;
  const sorted = `select * from (select * from app.evaluation where ${all} offset 0) led ${order} limit ${limit}`;
  if (isNarrow(query)) return sorted;
  const looked = `select * from app.evaluation where ${stretch.join(' and ')} ${order} limit ${by === 'createdAt' ? LOOKED_AT.time : LOOKED_AT.number}`;
  const late = numbers.size > 0 ? `${crossed(asked, sortColumn(by), direction)} limit ${limit}` : sorted;
  return `with soon as materialized (select * from (${looked}) looked where ${others.join(' and ')} ${order} limit ${limit})
    select * from soon where (select count(*) from soon) = ${limit}
    union all select * from (${late}) late where (select count(*) from soon) < ${limit}`;
}

/**
 * SQL: each index of a number holds the evaluations' ids, so stretches of them are crossed without a look at the table, in the order asked for, and
 * what remains is looked up one by one until a page is full. `is true` keeps the server from turning the crossing into a join, which it would sort.
 */
function crossed({ stretch, numbers, rest }: Conditions, column: string, direction: string): string {
  const within = [...numbers.values()].map(
    (each) => `(id in (select id from app.evaluation where team_id = $1 and ${each.join(' and ')})) is true`,
  );
  const walk = `select id as at, ${column} as place from app.evaluation where ${[...stretch, ...within].join(' and ')} order by place ${direction}, at ${direction} offset 0`;
  return `select found.* from (${walk}) walk cross join lateral (select * from app.evaluation where ${['id = at', ...rest].join(' and ')} offset 0) found
    order by place ${direction}, at ${direction}`;
}

/** The statement of one page: the page is cut from the evaluations alone, then completed. */
export function historyStatement(teamId: string, query: HistoryQuery, more = ''): { text: string; values: unknown[] } {
  const sort = query.sort ?? NEWEST_FIRST;
  const direction = sort.descending ? 'desc' : 'asc';
  const asked = conditions(teamId, query, sort);
  const text = `select ${SUMMARY_COLUMNS}${more} from (${pageStatement(query, asked)}) e
    join app.computation c on c.id = e.computation_id left join app.version v on v.id = e.version_id
    order by e.${sortColumn(sort.by)} ${direction}, e.id ${direction}`;
  return { text, values: asked.values };
}

/** One page of a team's evaluations. Every evaluation that is there all the while is listed once, however many are added meanwhile. */
export const history = (sql: Sql, teamId: string, query: HistoryQuery): Promise<Page<EvaluationSummary>> =>
  pageOf(sql, historyStatement(teamId, query), query, summaryOfRow);

/** What was asked for, beside the line of history. */
const ASKED = `, e.input -> 'parameterSet' as parameter_set, e.input #>> '{material,key}' as material, e.input #>> '{buildVolume,key}' as build_volume`;

/** The same with what each was asked for: a page of an export. */
export const exportedHistory = (sql: Sql, teamId: string, query: HistoryQuery): Promise<Page<ExportedEvaluation>> =>
  pageOf(sql, historyStatement(teamId, query, ASKED), query, (row) => ({
    ...summaryOfRow(row),
    parameterSet: row.parameter_set as ExportedEvaluation['parameterSet'],
    material: row.material as string | null,
    buildVolume: row.build_volume as string | null,
  }));

async function pageOf<T extends EvaluationSummary>(
  sql: Sql,
  { text, values }: { text: string; values: unknown[] },
  query: HistoryQuery,
  itemOf: (row: Record<string, unknown>) => T,
): Promise<Page<T>> {
  const { by, descending } = query.sort ?? NEWEST_FIRST;
  const items = (await sql.query(text, values)).rows.map(itemOf);
  const position = (last: EvaluationSummary) => ({ sort: sortName({ by, descending }), value: sortValue(by, last), id: last.id });
  return toPage(items, pageLimit(query), position, (item) => item);
}
