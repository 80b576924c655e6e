import {
  type Batch,
  type BatchRequest,
  type Lookup,
  mixedVersions,
  type Origin,
  type Sampling,
  type Variation,
  valuesOf,
} from '../openapi/index.ts';
import type { Records, UndertakingRecord } from '../prisma/index.ts';
import type { Handlers } from './handlers.ts';
import { found, Refusal } from './refusal.ts';
import { originOf, resolvedBase, resolvedChoices, shortened, type VariedInput, variationRefusals } from './variations.ts';

type Operation = 'createBatch' | 'listBatches' | 'getBatch' | 'changeBatch' | 'cancelBatch';

export interface BatchOptions {
  records: Pick<Records, 'undertakings' | 'versions'>;
  /** Finds the records that a team may name by key. */
  lookup(teamId: string): Lookup;
}

/** As it is stored for the worker, which reads the same fields: see its batch points. */
interface BatchInput {
  /** Missing in those stored before it was kept. */
  origin?: Origin | null;
  evaluation: VariedInput;
  vary: Variation[];
  sampling: Sampling;
  stretches: number[];
  repeat: BatchRequest['repeat'];
}

export function batchHandlers({ records, lookup }: BatchOptions): Handlers<Operation> {
  const { undertakings, versions } = records;
  const shown = async (record: UndertakingRecord) => shownWith(record, undertakings);
  return {
    createBatch: async ({ body, caller: { teamId } }) => {
      const { name, evaluation, sampling, startAt, finishBy, repeat = null } = body;
      const version = evaluation.versionId === undefined ? null : await versions.get(teamId, evaluation.versionId);
      const resolved = await resolvedBase(evaluation, version, { look: lookup(teamId), at: '/evaluation' });
      const vary = await resolvedChoices(body.vary, evaluation, { look: lookup(teamId), at: '/vary' });
      const errors = [
        ...(resolved.ok ? variationRefusals(body.vary, resolved.value.parameterSet) : resolved.errors),
        ...(vary.ok ? [] : vary.errors),
      ];
      if (!resolved.ok || !vary.ok || errors.length > 0) throw new Refusal('invalid-body', { errors });
      const total = sampling.points ?? vary.value.reduce((product, each) => product * valuesOf(each), 1);
      const input: BatchInput = {
        origin: originOf(version),
        evaluation: resolved.value,
        vary: vary.value,
        sampling,
        stretches: [total],
        repeat,
      };
      const begins = startAt ? new Date(startAt) : new Date();
      const made = await undertakings.create(teamId, {
        ...{ kind: 'batch', name, input, total },
        startAt: startAt ? begins : null,
        finishBy: finishBy ? new Date(finishBy) : null,
        repeatAt: repeat && new Date(begins.getTime() + repeat.everyHours * 3_600_000),
      });
      return { body: await shown(made), location: `/v1/batches/${made.id}` };
    },
    listBatches: async ({ query, caller }) => {
      const { items, nextCursor } = await undertakings.list(caller.teamId, 'batch', query);
      return { body: { items: await Promise.all(items.map(shown)), nextCursor } };
    },
    getBatch: async ({ params, caller }) => ({
      body: await shown(found(await undertakings.get(caller.teamId, 'batch', params.id), 'batch')),
    }),
    changeBatch: async ({ params, body: { status, points }, caller: { teamId } }) => {
      const record = found(await undertakings.get(teamId, 'batch', params.id), 'batch');
      refuseEnded(record);
      const extended = points === undefined ? null : extension(record, points);
      return { body: await shown((await undertakings.change(teamId, 'batch', params.id, { status, ...extended }))!) };
    },
    cancelBatch: async ({ params, caller: { teamId } }) => {
      const before = found(await undertakings.get(teamId, 'batch', params.id), 'batch');
      if (before.status !== 'cancelled') refuseEnded(before);
      return { body: await shown((await undertakings.change(teamId, 'batch', params.id, { status: 'cancelled' }))!) };
    },
  };
}

function refuseEnded({ status }: UndertakingRecord): void {
  if (status !== 'done' && status !== 'cancelled') return;
  throw new Refusal('already-finished', { detail: `The batch is ${status}; it can no longer be changed` });
}

/** More points: the sampling goes on where it ended, a Latin hypercube with another one. */
function extension({ input, total }: UndertakingRecord, points: number): { total: number; input: BatchInput } {
  const batch = input as BatchInput;
  const refuse = (detail: string) => new Refusal('invalid-body', { errors: [{ pointer: '/points', value: points, detail }] });
  if (batch.sampling.kind === 'grid') throw refuse('is not allowed of a grid, which has all its points; allowed: left out');
  if (points <= total) throw refuse(`is ${points}; allowed: more than the ${total} there are`);
  const sampling = { ...batch.sampling, points };
  return { total: points, input: { ...batch, sampling, stretches: [...batch.stretches, points - total] } };
}

/** Nothing is under way: before the first step, and after the last. */
const atRest = ({ done, failed, cancelled }: UndertakingRecord) => ({ counts: { running: 0, done, failed, cancelled }, perSecond: null });

async function shownWith(record: UndertakingRecord, undertakings: Records['undertakings']): Promise<Batch> {
  const { origin = null, vary, sampling, repeat } = record.input as BatchInput;
  const { id, name, status, total, startAt, finishBy, createdAt, startedAt, finishedAt } = record;
  const { perSecond, counts } = finishedAt || !startedAt ? atRest(record) : await undertakings.progress(id);
  const { running, done, failed } = counts;
  const cancelled = finishedAt ? total - done - failed : counts.cancelled;
  const left = total - done - failed - cancelled;
  const refused = failed > 0 ? await undertakings.refused(id) : [];
  return {
    ...{ id, name, status: status === 'failed' ? 'done' : status },
    counts: { total, queued: left - running, running, done, failed, cancelled },
    secondsLeft: perSecond && status === 'running' ? left / perSecond : null,
    ...{ origin, vary: vary.map(shortened), sampling, repeat: repeat ?? null },
    startAt: startAt?.toISOString() ?? null,
    finishBy: finishBy?.toISOString() ?? null,
    createdAt: createdAt.toISOString(),
    startedAt: startedAt?.toISOString() ?? null,
    finishedAt: finishedAt?.toISOString() ?? null,
    refusals: refused.map(({ index, errors }) => ({ index, errors })),
    warnings: mixedVersions(record.engineVersions),
  };
}
