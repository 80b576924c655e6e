import {
  type Drift,
  ENGINE_VERSION,
  type FieldError,
  MOST_REEVALUATED,
  mixedVersions,
  QUANTITIES,
  type ReevaluatedPair,
  type Reevaluation,
  type ReevaluationSelection,
  type ReevaluationSummary,
} from '../openapi/index.ts';
import type { Outdated, PairRecord, Records, UndertakingRecord } from '../prisma/index.ts';
import type { Handlers } from './handlers.ts';
import { summaryOf } from './reevaluation-summary.ts';
import { found, Refusal } from './refusal.ts';

type Operation = 'createReevaluation' | 'listReevaluations' | 'getReevaluation' | 'listReevaluatedPairs' | 'cancelReevaluation';

/** As it is stored; the evaluations that it means lie beside it. */
interface ReevaluationInput {
  selection: ReevaluationSelection;
  engineVersion: string;
  upToDate: number;
}

const KIND = 'reevaluation';

/** Earlier evaluations computed again by the present engine, and what moved. */
export function reevaluationHandlers({
  undertakings,
  reevaluations,
}: Pick<Records, 'undertakings' | 'reevaluations'>): Handlers<Operation> {
  const shown = async (record: UndertakingRecord): Promise<Reevaluation> => {
    const state = await stateOf(record, undertakings);
    const drift = await reevaluations.drift(record.id);
    return { ...state, summary: summaryOf(state, drift), drift, warnings: mixedVersions(record.engineVersions) };
  };
  const get = async (teamId: string, id: string) => found(await undertakings.get(teamId, KIND, id), 're-evaluation');
  return {
    createReevaluation: async ({ body: { name, ...selection }, caller: { teamId } }) => {
      const than = { engineVersion: ENGINE_VERSION, most: MOST_REEVALUATED };
      const { ids, upToDate, unknown } = await reevaluations.outdated(teamId, selection, than);
      const errors = [...unknownRefusals(selection, unknown), ...tooMany(ids.length)];
      if (errors.length > 0) throw new Refusal('invalid-body', { errors });
      const input: ReevaluationInput = { selection, engineVersion: ENGINE_VERSION, upToDate: Math.min(upToDate, MOST_REEVALUATED) };
      const made = await undertakings.create(teamId, { kind: KIND, name, input, total: ids.length, earlier: ids });
      const state = stateWith(made, { counts: { running: 0, done: 0, failed: 0, cancelled: 0 }, perSecond: null });
      const body = { ...state, summary: summaryOf(state, NOTHING), drift: NOTHING, warnings: [] };
      return { body, location: `/v1/reevaluations/${made.id}` };
    },
    listReevaluations: async ({ query, caller }) => {
      const { items, nextCursor } = await undertakings.list(caller.teamId, KIND, query);
      return { body: { items: await Promise.all(items.map((each) => stateOf(each, undertakings))), nextCursor } };
    },
    getReevaluation: async ({ params, caller }) => ({ body: await shown(await get(caller.teamId, params.id)) }),
    listReevaluatedPairs: async ({ params, query, caller }) => {
      const { items, nextCursor } = await reevaluations.pairs((await get(caller.teamId, params.id)).id, query);
      return { body: { items: items.map(pairShown), nextCursor } };
    },
    cancelReevaluation: async ({ params, caller: { teamId } }) => {
      const { status } = await get(teamId, params.id);
      if (status === 'done') throw new Refusal('already-finished', { detail: 'The re-evaluation is done; it can no longer be cancelled' });
      return { body: await shown((await undertakings.change(teamId, KIND, params.id, { status: 'cancelled' }))!) };
    },
  };
}

const none = { count: 0, items: [] };
const NOTHING: Drift = {
  ...{ pairs: 0, earlier: [], again: [], quantities: [] },
  ...{ verdicts: none, newFailures: none, pastFailures: none },
};

function unknownRefusals(selection: ReevaluationSelection, unknown: Outdated['unknown']): FieldError[] {
  const of = (name: 'versionIds' | 'evaluationIds', what: string) =>
    unknown[name].map((id) => ({
      ...{ pointer: `/${name}/${selection[name]!.indexOf(id)}`, value: id },
      detail: `is not known; allowed: the id of ${what} of the team`,
    }));
  const design = unknown.designId && [
    { pointer: '/designId', value: unknown.designId, detail: 'is not known; allowed: the id of a design of the team' },
  ];
  return [...(design || []), ...of('versionIds', 'a version'), ...of('evaluationIds', 'an evaluation')];
}

const tooMany = (count: number): FieldError[] =>
  count <= MOST_REEVALUATED
    ? []
    : [
        {
          pointer: '',
          detail: `means more than ${MOST_REEVALUATED} evaluations, which is the most at once; name a design, a tag or versions`,
        },
      ];

type Progress = Awaited<ReturnType<Records['undertakings']['progress']>>;

async function stateOf(record: UndertakingRecord, undertakings: Records['undertakings']): Promise<ReevaluationSummary> {
  const { finishedAt, startedAt, done, failed, cancelled } = record;
  const atRest: Progress = { counts: { running: 0, done, failed, cancelled }, perSecond: null };
  return stateWith(record, finishedAt || !startedAt ? atRest : await undertakings.progress(record.id));
}

function stateWith(record: UndertakingRecord, { counts: { running, done, failed, ...counts }, perSecond }: Progress): ReevaluationSummary {
  const { id, name, status, total, createdAt, startedAt, finishedAt } = record;
  const cancelled = finishedAt ? total - done - failed : counts.cancelled;
  const left = total - done - failed - cancelled;
  return {
    ...{ id, name, status: status as ReevaluationSummary['status'], ...(record.input as ReevaluationInput) },
    counts: { total, queued: left - running, running, done, failed, cancelled },
    secondsLeft: perSecond && status === 'running' ? left / perSecond : null,
    createdAt: createdAt.toISOString(),
    startedAt: startedAt?.toISOString() ?? null,
    finishedAt: finishedAt?.toISOString() ?? null,
  };
}

function pairShown({ index, earlier, again }: PairRecord): ReevaluatedPair {
  const { quantities: before, ...left } = earlier;
  const { quantities: after = null, ...right } = again ?? {};
  const ended = again !== null && (again.status === 'done' || again.status === 'failed');
  const moved = ended && after ? QUANTITIES.filter((each) => before[each] !== after[each]) : [];
  const changes = moved.map((quantity) => changeOf(quantity, before[quantity], after![quantity]));
  return { index, earlier: left, again: again && (right as ReevaluatedPair['again']), changes };
}

function changeOf(quantity: ReevaluatedPair['changes'][number]['quantity'], left: number | null, right: number | null) {
  const change = left === null || right === null ? null : right - left;
  return { quantity, left, right, change, changePct: change === null || !left ? null : (100 * change) / Math.abs(left) };
}
