import { setTimeout as pause } from 'node:timers/promises';
import { pino } from 'pino';
import { ENGINE_VERSION } from '../../openapi/engine-version.ts';
import { evaluationInput, type ResolvedInput } from '../../openapi/evaluation.ts';
import { catalogueLookup, resolveInput } from '../../openapi/resolve.ts';
import { inputHash, openRecords, type Records } from '../../prisma/index.ts';
import { evaluate } from '../engine/index.ts';
import { readEnvironment } from '../environment.ts';
import { openWorkQueue } from '../queue.ts';
import { startWorker } from '../start.ts';

export interface Overhead {
  evaluations: number;
  /** Saving the evaluation and adding its job, each. */
  submitMs: number;
  /** From the start of the worker's first job to the last row done, each. */
  runMs: number;
  /** The engine alone on the same inputs, each. */
  engineMs: number;
  /** submitMs + runMs - engineMs: what the service adds around the engine, each. */
  overheadMs: number;
  /** Of the worker, engine included. */
  evaluationsPerS: number;
}

export interface OverheadOptions {
  /** A migrated database of its own: it is filled and left as it is. */
  databaseUrl: string;
  redisUrl?: string;
  redisPrefix?: string;
  evaluations: number;
  /** Engine threads; with one the evaluations run one after the other and the times add up. */
  threads: number;
}

/** Measures what records, queue and threads cost around the engine: many of the smallest evaluations through all of them. */
export async function measureOverhead(options: OverheadOptions): Promise<Overhead> {
  const { databaseUrl, evaluations, threads } = options;
  const inputs = await smallInputs(evaluations);
  const engineMs = engineAlone(inputs);
  const records = openRecords({ databaseUrl });
  try {
    const submitMs = (await timed(() => submitAll(records, inputs, options))) / evaluations;
    const environment = readEnvironment({
      DATABASE_URL: databaseUrl,
      REDIS_URL: options.redisUrl,
      REDIS_PREFIX: options.redisPrefix,
      WORKER_THREADS: String(threads),
    });
    const threadFile = new URL('../engine-thread.js', import.meta.url);
    const worker = await startWorker(environment, { log: pino({ level: 'silent' }), threadFile });
    const runMs = (await timed(() => untilDone(records, evaluations))) / evaluations;
    await worker.drain();
    return { evaluations, submitMs, runMs, engineMs, overheadMs: submitMs + runMs - engineMs, evaluationsPerS: 1000 / runMs };
  } finally {
    await records.close();
  }
}

async function timed(work: () => Promise<void>): Promise<number> {
  const started = performance.now();
  await work();
  return performance.now() - started;
}

/** Dodecahedra of one layer, each of another size, so that none is the same computation as another. */
async function smallInputs(count: number): Promise<ResolvedInput[]> {
  const inputs: ResolvedInput[] = [];
  for (let k = 0; k < count; k++) {
    const set = {
      carrier: { shape: 'sphere', outsideDiameterMm: 60 + k / 1000 },
      tiling: { kind: 'goldberg', m: 1, n: 0 },
      layers: [{ depthMm: 0, strutDiameterMm: 3 }],
    };
    const input = evaluationInput.parse({ parameterSet: set, material: 'tpu-soft', buildVolume: 'small-polymer' });
    const resolved = await resolveInput(input, catalogueLookup);
    if (!resolved.ok) throw new Error(`the benchmark's input is refused: ${resolved.errors[0].detail}`);
    inputs.push(resolved.value);
  }
  return inputs;
}

/** Mean time of the engine on the inputs, once it is warm, ms. */
function engineAlone(inputs: readonly ResolvedInput[]): number {
  for (const input of inputs.slice(0, 20)) evaluate(input);
  const started = performance.now();
  for (const input of inputs) evaluate(input);
  return (performance.now() - started) / inputs.length;
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

async function untilDone(records: Records, evaluations: number): Promise<void> {
  while ((await records.computations.counts()).done < evaluations) await pause(10);
}
