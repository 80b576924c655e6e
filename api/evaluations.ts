import type { FastifyBaseLogger } from 'fastify';
import { ENGINE_VERSION, type Evaluation, type Lookup, type ParameterSet, resolveInput, type Validated } from '../openapi/index.ts';
import { type EvaluationRecord, inputHash, type Records, type Version } from '../prisma/index.ts';
import type { Handlers } from './handlers.ts';
import { type Dispatch, toFront, toQueue } from './queue.ts';
import { found, Refusal } from './refusal.ts';

type Operation = 'createEvaluation' | 'getEvaluation' | 'cancelEvaluation';

export interface EvaluationOptions {
  records: Pick<Records, 'evaluations' | 'computations' | 'versions'>;
  /** Finds the records that a team may name by key. */
  lookup(teamId: string): Lookup;
  dispatch: Pick<Dispatch, 'dispatch' | 'hasten'>;
  log: FastifyBaseLogger;
}

const shown = (record: EvaluationRecord): Evaluation => ({
  id: record.id,
  status: record.status,
  stage: record.stage,
  progressPct: record.progressPct,
  designId: record.designId,
  versionId: record.versionId,
  version: record.version,
  createdAt: record.createdAt.toISOString(),
  startedAt: record.startedAt?.toISOString() ?? null,
  finishedAt: record.finishedAt?.toISOString() ?? null,
  input: record.input,
  result: record.result,
  error: record.error,
  thinnedAt: record.thinnedAt?.toISOString() ?? null,
});

export function evaluationHandlers({ records, lookup, dispatch, log }: EvaluationOptions): Handlers<Operation> {
  const { evaluations, versions } = records;
  return {
    createEvaluation: async ({ body: { versionId, parameterSet: posted, ...conditions }, caller: { teamId } }) => {
      const version = versionId === undefined ? null : await versions.get(teamId, versionId);
      const base = baseOf({ versionId, posted, version });
      if (!base.ok) throw new Refusal('invalid-body', { errors: base.errors });
      const resolved = await resolveInput({ parameterSet: base.value, ...conditions }, lookup(teamId), version?.number);
      if (!resolved.ok) throw new Refusal('invalid-body', { errors: resolved.errors });
      const { evaluation, dispatch: computationId } = await evaluations.submit(teamId, {
        input: resolved.value,
        inputHash: inputHash(resolved.value),
        engineVersion: ENGINE_VERSION,
        designId: version?.designId ?? null,
        versionId: version?.id ?? null,
      });
      const afterwards = async () => {
        const queueing = { teamId, computations: records.computations, dispatch, log };
        if (computationId) await toQueue(computationId, queueing);
        else if (evaluation.status === 'queued') await toFront(evaluation.computationId, queueing);
      };
      return { body: shown(evaluation), location: `/v1/evaluations/${evaluation.id}`, afterwards };
    },
    getEvaluation: async ({ params, caller }) => ({
      body: shown(found(await evaluations.get(caller.teamId, params.id), 'evaluation')),
    }),
    cancelEvaluation: async ({ params, caller }) => {
      const { evaluation } = found(await evaluations.cancel(caller.teamId, params.id), 'evaluation');
      if (evaluation.status === 'cancelled') return { body: shown(evaluation) };
      throw new Refusal('already-finished', { detail: `The evaluation is ${evaluation.status}; it can no longer be cancelled` });
    },
  };
}

/** The parameter set that is meant: of the version named, or the one posted. */
export function baseOf({ versionId, posted, version }: Base): Validated<ParameterSet> {
  const value = version?.parameterSet ?? posted;
  if (value) return { ok: true, value };
  const detail = 'is not known; allowed: the id of a version of one of the team’s designs';
  return { ok: false, errors: [{ pointer: '/versionId', value: versionId, detail }] };
}

interface Base {
  versionId: string | undefined;
  posted: ParameterSet | undefined;
  version: Version | null;
}
