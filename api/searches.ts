import {
  depthFor,
  depthRefusal,
  type FieldError,
  type FreeParameter,
  type InlineReference,
  type Lookup,
  mixedVersions,
  type Origin,
  type Search,
  type SearchConstraints,
  type SearchFindings,
  type SearchRequest,
  tests as testsSchema,
} from '../openapi/index.ts';
import type { Records, UndertakingRecord } from '../prisma/index.ts';
import type { Handlers } from './handlers.ts';
import { found, Refusal } from './refusal.ts';
import { originOf, resolvedBase, resolvedChoices, shortened, type VariedInput, variationRefusals } from './variations.ts';

type Operation = 'createSearch' | 'listSearches' | 'getSearch' | 'cancelSearch';

export interface SearchOptions {
  records: Pick<Records, 'undertakings' | 'versions'>;
  /** Finds the records that a team may name by key. */
  lookup(teamId: string): Lookup;
}

/** As it is stored for the worker, which reads the same fields: see its search points. */
interface SearchInput {
  /** Missing in those stored before it was kept. */
  origin?: Origin | null;
  evaluation: VariedInput;
  free: FreeParameter[];
  constraints: SearchConstraints;
  objective: string;
  /** Missing in those stored before there was a choice, as is `until`. */
  rank?: SearchRequest['rank'];
  until?: SearchRequest['until'];
}

export function searchHandlers({ records: { undertakings, versions }, lookup }: SearchOptions): Handlers<Operation> {
  return {
    createSearch: async ({ body, caller: { teamId } }) => {
      const { name, free, constraints, objective, rank, until, budget, tests, ...base } = body;
      const version = body.versionId === undefined ? null : await versions.get(teamId, body.versionId);
      const look = lookup(teamId);
      const resolved = await resolvedBase({ ...base, tests: tests ?? testsSchema.parse({}) }, version, { look, at: '' });
      const choices = await resolvedChoices(free, body, { look, at: '/free' });
      const evaluation = resolved.ok ? withDepth(resolved.value, body) : null;
      const errors = [
        ...(resolved.ok ? variationRefusals(free, resolved.value.parameterSet, '/free') : resolved.errors),
        ...(choices.ok ? [] : choices.errors),
        ...(evaluation ? quantityRefusals(evaluation, body) : []),
      ];
      if (!evaluation || !choices.ok || errors.length > 0) throw new Refusal('invalid-body', { errors });
      const input: SearchInput = { origin: originOf(version), evaluation, free: choices.value, constraints, objective, rank, until };
      const made = await undertakings.create(teamId, { kind: 'search', name, input, total: budget.evaluations });
      return { body: shown(made), location: `/v1/searches/${made.id}` };
    },
    listSearches: async ({ query, caller }) => {
      const { items, nextCursor } = await undertakings.list(caller.teamId, 'search', query);
      return { body: { items: items.map(shown), nextCursor } };
    },
    getSearch: async ({ params, caller }) => ({
      body: shown(found(await undertakings.get(caller.teamId, 'search', params.id), 'search')),
    }),
    cancelSearch: async ({ params, caller: { teamId } }) => {
      const { status } = found(await undertakings.get(teamId, 'search', params.id), 'search');
      if (status === 'done') throw new Refusal('already-finished', { detail: 'The search is done; it can no longer be cancelled' });
      return { body: shown((await undertakings.change(teamId, 'search', params.id, { status: 'cancelled' }))!) };
    },
  };
}

/** Everything that must have a value, and where it was asked for. */
const wantedOf = ({ targets }: InlineReference, { constraints, objective, reference }: SearchRequest) => [
  ...targets.map(({ quantity }, k) => ({
    quantity,
    pointer: typeof reference === 'string' ? '/reference' : `/reference/targets/${k}/quantity`,
  })),
  ...constraints.limits.map(({ quantity }, k) => ({ quantity, pointer: `/constraints/limits/${k}/quantity` })),
  { quantity: objective, pointer: '/objective' },
];

/** Where no tests are asked for: as deep as what is wanted needs. */
function withDepth(evaluation: VariedInput, body: SearchRequest): VariedInput {
  if (body.tests) return evaluation;
  const depth = depthFor(wantedOf(evaluation.reference!, body).map(({ quantity }) => quantity));
  return { ...evaluation, tests: testsSchema.parse({ depth }) };
}

const quantityRefusals = ({ reference, tests }: VariedInput, body: SearchRequest): FieldError[] =>
  wantedOf(reference!, body).flatMap(({ quantity, pointer }) => {
    const detail = depthRefusal(quantity, tests);
    return detail === null ? [] : [{ pointer, value: quantity, detail }];
  });

const NOTHING_YET: SearchFindings = {
  ...{ best: null, ranking: [], sensitivities: [], conflict: null, endedBy: null },
  verdict: 'Nothing is evaluated yet.',
};

function shown(record: UndertakingRecord): Search {
  const {
    origin = null,
    evaluation,
    free,
    constraints,
    objective,
    rank = 'least-first',
    until = 'targets-met',
  } = record.input as SearchInput;
  const {
    trials: _,
    underWay: __,
    ...findings
  } = (record.outcome ?? NOTHING_YET) as SearchFindings & { trials?: unknown; underWay?: unknown };
  const { id, name, status, total, begun, done, failed, cancelled, createdAt, startedAt, finishedAt } = record;
  const evaluations = done + failed;
  return {
    ...{ id, name, status: status === 'failed' || status === 'paused' ? 'running' : status },
    progress: {
      ...{ evaluations, running: finishedAt ? 0 : begun - evaluations - cancelled, failed, budget: total },
      bestMissPct: findings.ranking[0]?.missPct ?? null,
    },
    ...findings,
    origin,
    ...{ reference: evaluation.reference!, free: free.map(shortened), constraints, objective, rank, until, tests: evaluation.tests },
    warnings: mixedVersions(record.engineVersions),
    createdAt: createdAt.toISOString(),
    startedAt: startedAt?.toISOString() ?? null,
    finishedAt: finishedAt?.toISOString() ?? null,
  };
}
