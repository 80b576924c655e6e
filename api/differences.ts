import type { EvaluationRecord, Records, Version } from '../prisma/index.ts';
import { difference, resultDifference } from './difference.ts';
import type { Handlers } from './handlers.ts';
import { found, Refusal } from './refusal.ts';

type Operation = 'compareVersions' | 'compareEvaluations';

/** Two versions, of one design or of two, or two evaluations, side by side. */
export const differenceHandlers = ({ versions, evaluations }: Pick<Records, 'versions' | 'evaluations'>): Handlers<Operation> => ({
  compareVersions: async ({ params, query, caller: { teamId } }) => {
    const left = found(await versions.byNumber(teamId, params.id, params.number), 'version');
    const wanted = query.with;
    const asked = typeof wanted === 'number' ? versions.byNumber(teamId, params.id, wanted) : versions.get(teamId, wanted);
    const allowed = 'the number of a version of this design, or the id of a version of any design of the team';
    const right = named(await asked, wanted, allowed);
    const pair = await evaluations.newestAlike(teamId, left.id, right.id);
    return {
      body: {
        left: ofVersion(left, pair?.left),
        right: ofVersion(right, pair?.right),
        parameters: difference(left.parameterSet, right.parameterSet),
        results: resultsOf(pair?.left, pair?.right),
      },
    };
  },
  compareEvaluations: async ({ params, query, caller: { teamId } }) => {
    const left = found(await evaluations.get(teamId, params.id), 'evaluation');
    const right = named(await evaluations.get(teamId, query.with), query.with, 'the id of an evaluation of the team');
    return {
      body: {
        left: { evaluationId: left.id, status: left.status },
        right: { evaluationId: right.id, status: right.status },
        parameters: difference(posted(left), posted(right)),
        results: resultsOf(left, right),
      },
    };
  },
});

const ofVersion = ({ id, designId, number }: Version, evaluation?: EvaluationRecord) => ({
  ...{ versionId: id, designId, number },
  evaluationId: evaluation?.id ?? null,
});

/** Of whole results only: parts that one did not reach are no difference of the lattices. */
const resultsOf = (left?: EvaluationRecord, right?: EvaluationRecord) =>
  left?.status === 'done' && right?.status === 'done' && left.result && right.result ? resultDifference(left.result, right.result) : null;

/** Paths are those of the parameter set; the records stand beside it. */
const posted = ({ input: { parameterSet, ...conditions } }: EvaluationRecord) => ({ ...parameterSet, ...conditions });

function named<T>(value: T | null, asked: unknown, allowed: string): T {
  if (value !== null) return value;
  const detail = `is ${JSON.stringify(asked)}, which is not known; allowed: ${allowed}`;
  throw new Refusal('invalid-query', { errors: [{ pointer: '/with', value: asked, detail }] });
}
