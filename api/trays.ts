import type { FastifyBaseLogger } from 'fastify';
import {
  ENGINE_VERSION,
  type FieldError,
  type Lookup,
  resolveMaking,
  settle,
  type Tray,
  type TrayInput,
  type TrayRequest,
} from '../openapi/index.ts';
import { type Records, type TrayRecord, trayHash, type Version } from '../prisma/index.ts';
import type { Handlers } from './handlers.ts';
import { type Dispatch, toQueue } from './queue.ts';
import { found, Refusal } from './refusal.ts';

type Operation = 'createTray' | 'listTrays' | 'getTray' | 'cancelTray';

export interface TrayOptions {
  records: Pick<Records, 'trays' | 'computations' | 'versions'>;
  /** Finds the records that a team may name by key. */
  lookup(teamId: string): Lookup;
  dispatch: Pick<Dispatch, 'dispatch'>;
  log: FastifyBaseLogger;
}

const state = ({ id, status, stage, progressPct, createdAt, startedAt, finishedAt }: TrayRecord) => ({
  id,
  status,
  stage,
  progressPct,
  createdAt: createdAt.toISOString(),
  startedAt: startedAt?.toISOString() ?? null,
  finishedAt: finishedAt?.toISOString() ?? null,
});
const shown = (record: TrayRecord): Tray => ({ ...state(record), input: record.input, result: record.result, error: record.error });

export function trayHandlers({ records, lookup, dispatch, log }: TrayOptions): Handlers<Operation> {
  const { trays, versions } = records;
  return {
    createTray: async ({ body: { parts, marks, ...making }, caller: { teamId } }) => {
      const wanted = await Promise.all(parts.map(({ versionId }) => versions.get(teamId, versionId)));
      const resolved = await resolveMaking(making, lookup(teamId));
      const errors = [...unknownVersions(parts, wanted), ...(resolved.ok ? [] : resolved.errors)];
      if (!resolved.ok || errors.length > 0) throw new Refusal('invalid-body', { errors });
      const input: TrayInput = { parts: partsOf(parts, wanted as Version[], marks), ...resolved.value };
      const { run: tray, dispatch: computationId } = await trays.submit(teamId, {
        input,
        inputHash: trayHash(input),
        engineVersion: ENGINE_VERSION,
      });
      const afterwards = async () => {
        if (computationId) await toQueue(computationId, { teamId, computations: records.computations, dispatch, log });
      };
      return { body: shown(tray), location: `/v1/trays/${tray.id}`, afterwards };
    },
    listTrays: async ({ query, caller }) => {
      const { items, nextCursor } = await trays.list(caller.teamId, query);
      const parts = ({ input }: TrayRecord) => input.parts.map(({ versionId, count }) => ({ versionId, count }));
      return { body: { items: items.map((each) => ({ ...state(each), parts: parts(each) })), nextCursor } };
    },
    getTray: async ({ params, caller }) => ({ body: shown(found(await trays.get(caller.teamId, params.id), 'tray')) }),
    cancelTray: async ({ params, caller }) => {
      const tray = found(await trays.cancel(caller.teamId, params.id), 'tray');
      if (tray.status === 'cancelled' || tray.status === 'running') return { body: shown(tray) };
      throw new Refusal('already-finished', { detail: `The tray is ${tray.status}; it can no longer be cancelled` });
    },
  };
}

const unknownVersions = (parts: TrayRequest['parts'], wanted: readonly (Version | null)[]): FieldError[] =>
  parts.flatMap(({ versionId }, k) => {
    const detail = 'is not known; allowed: the id of a version of one of the team’s designs';
    return wanted[k] ? [] : [{ pointer: `/parts/${k}/versionId`, value: versionId, detail }];
  });

/** A part carries its version's number; where that would not tell two parts of the tray apart, all carry their places in the list. */
function partsOf(parts: TrayRequest['parts'], versions: readonly Version[], marks: TrayRequest['marks']): TrayInput['parts'] {
  const numbers = versions.map(({ number }) => number);
  const apart = new Set(numbers).size === numbers.length;
  return parts.map(({ versionId, count }, k) => ({
    versionId,
    parameterSet: settle(versions[k].parameterSet),
    count,
    mark: marks === 'none' ? null : apart ? numbers[k] : k + 1,
  }));
}
