import type { LineageVersion } from '../openapi/index.ts';
import type { LineageRecord, Versions } from '../prisma/index.ts';
import { difference } from './difference.ts';
import type { Handlers } from './handlers.ts';
import { found } from './refusal.ts';

const shown = ({ parameterSet, basedOn, evaluation, decision, createdAt, ...rest }: LineageRecord): LineageVersion => {
  const { parameterSet: before, ...parent } = basedOn ?? { parameterSet: null };
  return {
    ...rest,
    createdAt: createdAt.toISOString(),
    basedOn: basedOn && (parent as LineageVersion['basedOn']),
    changed: before && difference(before, parameterSet).differing,
    evaluation: evaluation && { ...evaluation, finishedAt: evaluation.finishedAt.toISOString() },
    decision: decision && { ...decision, createdAt: decision.createdAt.toISOString() },
  };
};

/** The versions of a design as a tree: what each came from, what came from it, and what is known of it. */
export const lineageHandlers = ({ lineage }: Pick<Versions, 'lineage'>): Handlers<'getLineage'> => ({
  getLineage: async ({ params, query, caller }) => {
    const { items, nextCursor } = found(await lineage(caller.teamId, params.id, query), 'design');
    return { body: { items: items.map(shown), nextCursor } };
  },
});
