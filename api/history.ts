import { type EvaluationSummary, filtersOf, type HistoryQuery, leafFiltersOf, sortOf } from '../openapi/index.ts';
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
  material,
  engineVersion,
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
  material,
  engineVersion,
  createdAt: createdAt.toISOString(),
  finishedAt: finishedAt?.toISOString() ?? null,
  quantities,
});

/** What a checked query asks of each evaluation. */
export function conditionsOf(query: Omit<HistoryQuery, 'sort' | 'limit' | 'cursor'>) {
  const { status, verdict, designId, versionId, batchId, searchId, reevaluationId, tag, q, material, engineVersion } = query;
  return {
    ...{ status, verdict, designId, versionId, tag, words: q, material, engineVersion },
    undertakingIds: [batchId, searchId, reevaluationId].filter((id) => id !== undefined),
    ...{ createdFrom: query['createdAt.gte'], createdTo: query['createdAt.lte'] },
    ...{ filters: filtersOf(query), leaves: leafFiltersOf(query) },
  };
}

export const historyHandlers = (evaluations: Evaluations): Handlers<'listEvaluations'> => ({
  listEvaluations: async ({ query, caller }) => {
    const { limit, cursor } = query;
    const { items, ...rest } = await evaluations.list(caller.teamId, { ...conditionsOf(query), sort: sortOf(query), limit, cursor });
    return { body: { items: items.map(summaryShown), ...rest } };
  },
});
