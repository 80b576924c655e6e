import { type EvaluationSummary, filtersOf, type HistoryQuery, sortOf } from '../openapi/index.ts';
import type { Evaluations, EvaluationSummary as SummaryRecord } from '../prisma/index.ts';
import type { Handlers } from './handlers.ts';

export const summaryShown = ({
  id,
  status,
  stage,
  progressPct,
  verdict,
  designId,
  versionId,
  version,
  createdAt,
  finishedAt,
  quantities,
}: SummaryRecord): EvaluationSummary => ({
  id,
  status,
  stage,
  progressPct,
  verdict,
  designId,
  versionId,
  version,
  createdAt: createdAt.toISOString(),
  finishedAt: finishedAt?.toISOString() ?? null,
  quantities,
});

/** What a checked query asks of each evaluation. */
export function conditionsOf(query: Omit<HistoryQuery, 'sort' | 'limit' | 'cursor'>) {
  const { status, verdict, designId, versionId, batchId, searchId, tag } = query;
  const created = { createdFrom: query['createdAt.gte'], createdTo: query['createdAt.lte'] };
  return { status, verdict, designId, versionId, undertakingId: batchId ?? searchId, tag, ...created, filters: filtersOf(query) };
}

export const historyHandlers = (evaluations: Evaluations): Handlers<'listEvaluations'> => ({
  listEvaluations: async ({ query, caller }) => {
    const { limit, cursor } = query;
    const { items, nextCursor } = await evaluations.list(caller.teamId, { ...conditionsOf(query), sort: sortOf(query), limit, cursor });
    return { body: { items: items.map(summaryShown), nextCursor } };
  },
});
