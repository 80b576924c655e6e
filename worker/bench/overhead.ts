import { setTimeout as pause } from 'node:timers/promises';
import { pino } from 'pino';
import { ENGINE_VERSION } from '../../openapi/engine-version.ts';
import { evaluationInput, type ResolvedInput } from '../../openapi/evaluation.ts';
import { catalogueLookup, resolveInput } from '../../openapi/resolve.ts';
import { inputHash, openRecords, type Records } from '../../prisma/index.ts';
import { readEnvironment } from '../environment.ts';
import { openWorkQueue } from '../queue.ts';
import { startWorker } from '../start.ts';

export interface Overhead {
  /** Measured evaluations; WARM_UP more were run before. */
  evaluations: number;
  /** Saving the evaluation and adding its job, each. */
  submitMs: number;
  /** Taking the job, claiming the row, handing the run to a thread, storing result and graph, each. */
  runMs: number;
  /** submitMs + runMs: what the service adds around the engine. */
  msPerEvaluation: number;
  /** What the worker could finish if the engine took no time. */
  evaluationsPerS: number;
}

export interface OverheadOptions {
  /** A migrated database of its own: it is filled and left as it is. */
  databaseUrl: string;
  redisUrl?: string;
  redisPrefix?: string;
  evaluations: number;
  threads: number;
}

const WARM_UP = 50;

/**
 * Measures what records, queue and threads cost around the engine: many evaluations of GP(3,3) with two layers go through all of them, in a
 * worker whose threads answer with one result computed before. Rejects when an evaluation does not end done.
 */
export async function measureOverhead(options: OverheadOptions): Promise<Overhead> {
  const { databaseUrl, evaluations } = options;
  const all = evaluations + WARM_UP;
  const inputs = await Promise.all(Array.from({ length: all }, (_, k) => inputOf(160 + k / 1000)));
  const records = openRecords({ databaseUrl });
  try {
    const submitMs = (await timed(() => submitAll(records, inputs, options))) / all;
    const worker = await startIdleWorker(options);
    const warm = await untilDone(records, WARM_UP);
    const runMs = (await timed(() => untilDone(records, all))) / (all - warm);
    await worker.drain();
    return { evaluations, submitMs, runMs, msPerEvaluation: submitMs + runMs, evaluationsPerS: 1000 / runMs };
  } finally {
    await records.close();
  }
}

function startIdleWorker({ databaseUrl, redisUrl, redisPrefix, threads }: OverheadOptions) {
  const variables = { DATABASE_URL: databaseUrl, REDIS_URL: redisUrl, REDIS_PREFIX: redisPrefix, WORKER_THREADS: String(threads) };
  const log = pino({ level: 'silent' });
  return startWorker(readEnvironment(variables), { log, threadFile: new URL('./ready-thread.js', import.meta.url) });
}

async function timed(work: () => Promise<unknown>): Promise<number> {
  const started = performance.now();
  await work();
  return performance.now() - started;
}

/** Each diameter is an input of its own, so that none is the same computation as another. */
async function inputOf(outsideDiameterMm: number): Promise<ResolvedInput> {
  const parameterSet = {
    carrier: { shape: 'sphere', outsideDiameterMm },
    tiling: { kind: 'goldberg', m: 3, n: 3 },
    layers: [
      { depthMm: 0, strutDiameterMm: 4.2 },
      { depthMm: 14, strutDiameterMm: 3.6 },
    ],
    links: { pattern: 'posts', strutDiameterMm: 3.6 },
  };
  const input = evaluationInput.parse({ parameterSet, material: 'tpu-soft', buildVolume: 'medium-polymer' });
  const resolved = await resolveInput(input, catalogueLookup);
  if (!resolved.ok) throw new Error(`the benchmark's input is refused: ${resolved.errors[0].detail}`);
  return resolved.value;
}

async function submitAll(records: Records, inputs: readonly ResolvedInput[], options: OverheadOptions): Promise<void> {
  const { databaseUrl, redisUrl = null, redisPrefix } = options;
  const team = await records.teams.create({ name: 'Benchmark' });
  const producing = await openWorkQueue({
    ...{ databaseUrl, redisUrl, redisPrefix, concurrency: 1, lockMs: 30_000, stalledMs: 30_000 },
    process: async () => undefined,
    onError: () => undefined,
  });
  for (const input of inputs) {
    const submission = { input, inputHash: inputHash(input), engineVersion: ENGINE_VERSION, designId: null, versionId: null };
    const { dispatch } = await records.evaluations.submit(team.id, submission);
    if (dispatch) await producing.addAgain([dispatch]);
  }
  await producing.close();
}

/** Resolves with the number done once it is at least so many. */
async function untilDone(records: Records, atLeast: number): Promise<number> {
  for (;;) {
    const { done, failed } = await records.computations.counts();
    if (failed > 0) throw new Error(`${failed} of the benchmark's evaluations failed`);
    if (done >= atLeast) return done;
    await pause(20);
  }
}
