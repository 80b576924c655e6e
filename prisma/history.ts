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
const tagged = (tag: string) => `(design_id in (select d.id from app.design d where d.team_id = $1 and d.tags @> array[${tag}::text])
  or version_id in (select v.id from app.version v join app.design d on d.id = v.design_id
    where d.team_id = $1 and v.tags @> array[${tag}::text]))`;

/** An undertaking is of the team that its members are of. */
const memberOf = (undertaking: string) => `id in (select m.evaluation_id from app.member m where m.undertaking_id = ${undertaking})`;

/** Conditions of a query in SQL and their values; the columns are those of app.evaluation. */
export function conditions(
  teamId: string,
  query: Omit<HistoryQuery, 'limit'>,
  sort: Sort = NEWEST_FIRST,
): { where: string; values: unknown[] } {
  const values: unknown[] = [teamId];
  const bound = (value: unknown) => `$${values.push(value)}`;
  const parts = ['team_id = $1'];
  const equal = { status: query.status, verdict: query.verdict, design_id: query.designId, version_id: query.versionId };
  for (const [column, value] of Object.entries(equal)) if (value !== undefined) parts.push(`${column} = ${bound(value)}`);
  if (query.undertakingId !== undefined) parts.push(memberOf(bound(query.undertakingId)));
  if (query.tag !== undefined) parts.push(tagged(bound(query.tag)));
  for (const { quantity, op, value } of query.filters ?? []) parts.push(`${columnOf(quantity)} ${COMPARISONS[op]} ${bound(value)}`);

  const column = sortColumn(sort.by);
  const timed = sort.by === 'createdAt';
  if (!timed) parts.push(`${column} is not null`);
  const after = readCursor(query, sortName(sort), timed ? 'time' : 'number');
  if (after) {
    const value = `${bound(after.value)}::${timed ? 'timestamptz' : 'double precision'}`;
    parts.push(`(${column}, id) ${sort.descending ? '<' : '>'} (${value}, ${bound(after.id)}::uuid)`);
  }
  return { where: parts.join(' and '), values };
}

/** The statement of one page: the page is cut from the evaluations alone, then completed. */
export function historyStatement(teamId: string, query: HistoryQuery, more = ''): { text: string; values: unknown[] } {
  const sort = query.sort ?? NEWEST_FIRST;
  const { where, values } = conditions(teamId, query, sort);
  const direction = sort.descending ? 'desc' : 'asc';
  const order = (alias: string) => `order by ${alias}.${sortColumn(sort.by)} ${direction}, ${alias}.id ${direction}`;
  const page = `select p.* from app.evaluation p where ${where} ${order('p')} limit ${pageLimit(query) + 1}`;
  const text = `select ${SUMMARY_COLUMNS}${more} from (${page}) e
    join app.computation c on c.id = e.computation_id left join app.version v on v.id = e.version_id ${order('e')}`;
  return { text, values };
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
