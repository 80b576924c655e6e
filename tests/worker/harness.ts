import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { setTimeout as pause } from 'node:timers/promises';
import { Client } from 'pg';
import { type Dispatch, openDispatch } from '../../api/queue.ts';
import { ENGINE_VERSION } from '../../openapi/engine-version.ts';
import { evaluationInput, type ResolvedInput } from '../../openapi/evaluation.ts';
import type { ParameterSetInput } from '../../openapi/parameter-set.ts';
import { catalogueLookup, resolveInput } from '../../openapi/resolve.ts';
import { inputHash, openRecords, type Records } from '../../prisma/index.ts';
import { freshDatabase } from '../support/database.ts';
import { type Backend, clearPrefix } from './backends.ts';

export interface WorkerProcess {
  pid: number;
  /** Everything it wrote so far. */
  output(): string;
  /** Sends the signal and resolves with the exit code (null: ended by the signal). */
  stop(signal: NodeJS.Signals): Promise<number | null>;
}

export interface Site {
  databaseUrl: string;
  records: Records;
  dispatch: Dispatch;
  teamId: string;
  client: Client;
  /** Starts `node dist/worker/main.js` (or another file) and resolves when it takes jobs. */
  worker(settings?: NodeJS.ProcessEnv, file?: string): Promise<WorkerProcess>;
  /** Saves an evaluation and, unless told otherwise, adds its job. */
  submit(input: ResolvedInput, options?: { dispatched: boolean }): Promise<{ id: string; computationId: string }>;
  close(): Promise<void>;
}

/** Locks that are lost soon, so that a killed worker's runs are done again within seconds. */
const QUICK = { QUEUE_LOCK_MS: '1000', QUEUE_STALLED_MS: '500', WORKER_THREADS: '1' };

/** A database, a team, the producing side of the queue, and workers on them; close() stops what is still running. */
export async function openSite(backend: Backend): Promise<Site> {
  const { databaseUrl, drop } = await freshDatabase();
  const redisPrefix = `test-${process.pid}-${Date.now()}`;
  const records = openRecords({ databaseUrl });
  const dispatch = await openDispatch({ databaseUrl, redisUrl: backend.redisUrl, redisPrefix, onError: () => undefined });
  const client = new Client({ connectionString: databaseUrl });
  await client.connect();
  const team = await records.teams.create({ name: 'Harbour Schools League' });
  const workers: WorkerProcess[] = [];
  const settings = { ...QUICK, DATABASE_URL: databaseUrl, REDIS_URL: backend.redisUrl ?? '', REDIS_PREFIX: redisPrefix };
  return {
    ...{ databaseUrl, records, dispatch, client, teamId: team.id },
    worker: async (more = {}, file = 'dist/worker/main.js') => {
      const worker = await startWorkerProcess(file, { ...settings, ...more });
      workers.push(worker);
      return worker;
    },
    submit: async (input, { dispatched } = { dispatched: true }) => {
      const submission = { input, inputHash: inputHash(input), engineVersion: ENGINE_VERSION, designId: null, versionId: null };
      const { evaluation, dispatch: id } = await records.evaluations.submit(team.id, submission);
      if (id && dispatched) await dispatch.dispatch(id, { teamOutstanding: 0 });
      return evaluation;
    },
    close: async () => {
      await Promise.all(workers.map((worker) => worker.stop('SIGKILL')));
      await dispatch.close();
      await clearPrefix(backend, redisPrefix);
      await records.close();
      await client.end();
      await drop();
    },
  };
}

async function startWorkerProcess(file: string, settings: NodeJS.ProcessEnv): Promise<WorkerProcess> {
  const child = fork(file, { env: { PATH: process.env.PATH, ...settings }, stdio: ['ignore', 'pipe', 'pipe', 'ipc'] });
  let output = '';
  for (const stream of [child.stdout, child.stderr]) stream?.on('data', (chunk) => (output += chunk));
  const ended = once(child, 'exit');
  await Promise.race([
    once(child, 'message'),
    ended.then(() => {
      throw new Error(`the worker ended before it took jobs:\n${output}`);
    }),
  ]);
  return { pid: child.pid!, output: () => output, stop: (signal) => stop(child, signal, ended) };
}

async function stop(child: ChildProcess, signal: NodeJS.Signals, ended: Promise<unknown[]>): Promise<number | null> {
  if (child.exitCode !== null || child.signalCode !== null) return child.exitCode;
  child.kill(signal);
  return (await ended)[0] as number | null;
}

/** The whole input around a parameter set. */
async function inputOf(parameterSet: ParameterSetInput): Promise<ResolvedInput> {
  const input = evaluationInput.parse({ parameterSet, material: 'tpu-soft', buildVolume: 'small-polymer' });
  const resolved = await resolveInput(input, catalogueLookup);
  if (!resolved.ok) throw new Error(resolved.errors[0].detail);
  return resolved.value;
}

/** A small dodecahedron: milliseconds of the engine. Each k is an evaluation of its own. */
export const small = (k: number) =>
  inputOf({
    carrier: { shape: 'sphere', outsideDiameterMm: 12 + k / 100 },
    tiling: { kind: 'goldberg', m: 1, n: 0 },
    layers: [{ depthMm: 0, strutDiameterMm: 0.8 }],
  });

/** 32 000 struts in two linked layers: seconds of the engine, long enough to be interrupted. */
export const large = (k: number) =>
  inputOf({
    carrier: { shape: 'sphere', outsideDiameterMm: 180 + k / 100 },
    tiling: { kind: 'goldberg', m: 20, n: 0 },
    layers: [0, 5].map((depthMm) => ({ depthMm, strutDiameterMm: 1 })),
    links: { pattern: 'posts', strutDiameterMm: 1 },
  });

/** Resolves with the first answer that is not null, false or 0; rejects, saying what it waited for, after `withinMs`. */
export async function until<T>(what: string, ask: () => Promise<T>, withinMs = 50_000): Promise<NonNullable<T>> {
  const deadline = Date.now() + withinMs;
  for (;;) {
    const answer = await ask();
    if (answer) return answer;
    if (Date.now() > deadline) throw new Error(`waited ${withinMs} ms in vain: ${what}`);
    await pause(20);
  }
}
