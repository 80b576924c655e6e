import type { Quantity, Sort } from '../openapi/index.ts';
import { SUMMARY_COLUMNS, summaryOfRow } from './evaluation-rows.ts';
import { NEWEST_FIRST, sortName } from './history-conditions.ts';
import { scanned } from './history-scan.ts';
import { historyStatement } from './history-statement.ts';
import { withVersions } from './history-versions.ts';
import { pageLimit, toPage } from './page.ts';
import type { EvaluationSummary, ExportedEvaluation } from './run-records.ts';
import type { HistoryPage, HistoryQuery } from './run-repositories.ts';
import type { Sql } from './transaction.ts';

const sortValue = (by: Sort['by'], item: EvaluationSummary) =>
  by === 'createdAt' ? item.createdAt.toISOString() : Number(item.quantities[by as Quantity]);

/** One page of a team's evaluations. Every evaluation that is there all the while is listed once, however many are added meanwhile. */
export const history = (sql: Sql, teamId: string, query: HistoryQuery): Promise<HistoryPage<EvaluationSummary>> =>
  pageOf(sql, teamId, query, { more: '', itemOf: summaryOfRow });

/** What was asked for, beside the line of history. */
const ASKED = `, e.input -> 'parameterSet' as parameter_set, e.input #>> '{buildVolume,key}' as build_volume`;

/** The same with what each was asked for: a page of an export. */
export const exportedHistory = (sql: Sql, teamId: string, query: HistoryQuery): Promise<HistoryPage<ExportedEvaluation>> =>
  pageOf(sql, teamId, query, {
    more: ASKED,
    // What is added stands before the spread: behind it, each row takes 1.1 kB of memory in place of 0.3 (Node 20, 200 000 rows).
    itemOf: (row) => ({
      parameterSet: row.parameter_set as ExportedEvaluation['parameterSet'],
      buildVolume: row.build_volume as string | null,
      ...summaryOfRow(row),
    }),
  });

interface Line<T> {
  /** SQL: columns beside those of a line of the history. */
  more: string;
  itemOf: (row: Record<string, unknown>) => T;
}

async function pageOf<T extends EvaluationSummary>(sql: Sql, teamId: string, query: HistoryQuery, line: Line<T>): Promise<HistoryPage<T>> {
  const asked = await withVersions(sql, teamId, query);
  if (query.leaves?.length) {
    const { ids, ...page } = await scanned(sql, teamId, asked);
    return { items: await linesOf(sql, ids, line), ...page };
  }
  const { text, values } = historyStatement(teamId, asked, line.more);
  const items = (await sql.query(text, values)).rows.map(line.itemOf);
  const sort = query.sort ?? NEWEST_FIRST;
  const position = (last: EvaluationSummary) => ({ sort: sortName(sort), value: sortValue(sort.by, last), id: last.id });
  return toPage(items, pageLimit(query), position, (item) => item);
}

/** Lines of these evaluations, in their order. */
async function linesOf<T extends EvaluationSummary>(sql: Sql, ids: readonly string[], { more, itemOf }: Line<T>): Promise<T[]> {
  const { rows } = await sql.query(
    `select ${SUMMARY_COLUMNS}${more} from app.evaluation e join app.computation c on c.id = e.computation_id
      left join app.version v on v.id = e.version_id where e.id = any($1::uuid[])`,
    [ids],
  );
  const found = new Map(rows.map(itemOf).map((each) => [each.id, each]));
  return ids.flatMap((id) => found.get(id) ?? []);
}

/** The lines of history of these, in their order; of other teams none. */
export async function summaries(sql: Sql, teamId: string, ids: readonly string[]): Promise<EvaluationSummary[]> {
  return (await linesOf(sql, ids, { more: '', itemOf: summaryOfRow })).filter((each) => each.teamId === teamId);
}
