import { type EvaluationSummary, filtersOf, sortOf } from '../openapi/index.ts';
import type { Evaluations, EvaluationSummary as SummaryRecord } from '../prisma/index.ts';
import type { Handlers } from './handlers.ts';

const shown = ({
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

export const historyHandlers = (evaluations: Evaluations): Handlers<'listEvaluations'> => ({
  listEvaluations: async ({ query, caller }) => {
    const { status, verdict, designId, versionId, batchId, searchId, tag, limit, cursor } = query;
    const undertakingId = batchId ?? searchId;
    const conditions = { status, verdict, designId, versionId, undertakingId, tag, filters: filtersOf(query), sort: sortOf(query) };
    const { items, nextCursor } = await evaluations.list(caller.teamId, { ...conditions, limit, cursor });
    return { body: { items: items.map(shown), nextCursor } };
  },
});
