import { setTimeout } from 'node:timers/promises';
import type { FastifyBaseLogger } from 'fastify';
import { ENGINE_VERSION, FILE_NAMES, type FileName, fileKind, type OrderedFile, storedName } from '../openapi/index.ts';
import type { FileState, Records, StoredFile, StoredFileInfo } from '../prisma/index.ts';
import { fileAnswer } from './file-answer.ts';
import type { Handlers } from './handlers.ts';
import { type Dispatch, toQueue } from './queue.ts';
import { found, Refusal } from './refusal.ts';
import { savedName } from './saved-name.ts';

type Operation = 'listFiles' | 'orderFile' | 'getFile' | 'listTrayFiles' | 'getTrayFile';

const shown = ({ createdAt, ...info }: StoredFileInfo) => ({ ...info, createdAt: createdAt.toISOString() });

export interface FileOptions {
  records: Pick<Records, 'files' | 'evaluations' | 'designs' | 'computations'>;
  dispatch: Pick<Dispatch, 'dispatch'>;
  log: FastifyBaseLogger;
}

/** Made when they are first asked for: the addresses that every evaluation has. */
const PROMISED: readonly string[] = ['graph.json', 'lattice.3mf'];
/** How long a GET waits for one of them, and how often it looks. */
const PROMISED_WITHIN_MS = 10_000;
const LOOK_EVERY_MS = 100;

export function fileHandlers({ records, dispatch, log }: FileOptions): Handlers<Operation> {
  const { files, evaluations, designs, computations } = records;

  const downloadName = async (teamId: string, evaluationId: string, name: string) => {
    const evaluation = await evaluations.get(teamId, evaluationId);
    const design = evaluation?.designId ? await designs.get(teamId, evaluation.designId) : null;
    const number = evaluation?.version ?? null;
    return savedName(name, evaluationId, design && number !== null ? { designName: design.name, number } : null);
  };

  /** Makes a promised file and waits for it; refuses what there is not, saying what can be done about it. */
  async function madeNow(teamId: string, id: string, name: string): Promise<StoredFile> {
    const promised = PROMISED.includes(name)
      ? await files.order(teamId, id, { order: { name: name as FileName }, engineVersion: ENGINE_VERSION })
      : null;
    if (promised !== null && promised !== 'not-finished') {
      if (promised.dispatch) await toQueue(promised.dispatch, { teamId, computations, dispatch, log });
      for (const until = Date.now() + PROMISED_WITHIN_MS; Date.now() < until; await setTimeout(LOOK_EVERY_MS)) {
        const file = await files.get(teamId, id, name);
        if (file) return file;
        if ((await files.ordered(teamId, id, name))?.status === 'failed') break;
      }
    }
    throw await notMade(teamId, id, name);
  }

  async function notMade(teamId: string, id: string, name: string): Promise<Refusal> {
    const state = await files.ordered(teamId, id, name);
    if (state?.status === 'failed') return new Refusal('file-not-made', { detail: `It could not be made: ${state.error?.message}` });
    if (state && state.status !== 'cancelled') {
      const detail = `It is being made: ${state.status}, ${Math.round(state.progressPct)} %; ask again`;
      return new Refusal('file-not-made', { detail, headers: { 'retry-after': '1' } });
    }
    const evaluation = found(await evaluations.get(teamId, id), 'evaluation');
    if (!['done', 'failed'].includes(evaluation.status) || !fileKind(name))
      return new Refusal('not-found', { detail: `There is no such file; files that can be made: ${FILE_NAMES.join(', ')}` });
    return new Refusal('file-not-made', { detail: `POST { "name": "${name}" } to /v1/evaluations/${id}/files makes it` });
  }

  /** A plot of numbers that the evaluation does not have, or that are no longer kept, is refused at once. */
  async function refuseWithoutNumbers(teamId: string, id: string, name: FileName): Promise<void> {
    const { depth } = fileKind(name)!;
    const { result, thinnedAt } = found(await evaluations.get(teamId, id), 'evaluation');
    if (thinnedAt && !PROMISED.includes(name)) {
      const since = `Its whole result was let go on ${thinnedAt.toISOString().slice(0, 10)} by the rules of the team`;
      throw new Refusal('thinned', { detail: `${since}; POST the same evaluation again, then order the file` });
    }
    if (!depth) return;
    const has = depth === 'static' ? result?.stiffness : result?.rebound;
    if (result && !has) {
      const detail = `needs an evaluation of tests.depth ${depth === 'static' ? 'static or full' : 'full'}`;
      throw new Refusal('invalid-body', { errors: [{ pointer: '/name', value: name, detail }] });
    }
  }

  return {
    listFiles: async ({ params, caller }) => {
      const items = found(await files.list(caller.teamId, params.id), 'evaluation');
      return { body: { items: items.map(shown), nextCursor: null } };
    },
    orderFile: async ({ params, body: order, caller: { teamId } }) => {
      await refuseWithoutNumbers(teamId, params.id, order.name);
      const made = found(await files.order(teamId, params.id, { order, engineVersion: ENGINE_VERSION }), 'evaluation');
      if (made === 'not-finished') throw new Refusal('not-finished', { detail: 'Files are made of evaluations that are done' });
      const stored = storedName(order);
      const afterwards = async () => {
        if (made.dispatch) await toQueue(made.dispatch, { teamId, computations, dispatch, log });
      };
      return { body: orderedOf(params.id, stored, made.state), location: `/v1/evaluations/${params.id}/files/${stored}`, afterwards };
    },
    getFile: async ({ params, headers, caller }) => {
      const file = (await files.get(caller.teamId, params.id, params.name)) ?? (await madeNow(caller.teamId, params.id, params.name));
      return named(file, await downloadName(caller.teamId, params.id, file.name), headers);
    },
    listTrayFiles: async ({ params, caller }) => {
      const items = found(await files.listOfTray(caller.teamId, params.id), 'tray');
      return { body: { items: items.map(shown), nextCursor: null } };
    },
    getTrayFile: async ({ params, headers, caller }) => {
      const file = found(await files.getOfTray(caller.teamId, params.id, params.name), 'file');
      return named(file, `${params.id}-${file.name}`, headers);
    },
  };
}

const orderedOf = (evaluationId: string, name: string, { status, stage, progressPct, error }: FileState): OrderedFile => ({
  evaluationId,
  name,
  status,
  stage,
  progressPct,
  error,
});

/** The file as it is asked for, to be saved under a name. */
async function named(file: StoredFile, filename: string, headers: Parameters<typeof fileAnswer>[1]) {
  const answer = await fileAnswer(file, headers);
  const described = { 'content-type': file.mediaType, 'content-disposition': `attachment; filename="${filename}"` };
  return { ...answer, headers: { ...described, ...answer.headers } };
}
