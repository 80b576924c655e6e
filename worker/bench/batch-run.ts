import { fork } from 'node:child_process';
import { once } from 'node:events';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { pino } from 'pino';
import { openRecords, type UndertakingRecord } from '../../prisma/index.ts';
import type { BatchInput } from '../batch-points.ts';
import { readEnvironment } from '../environment.ts';
import { startWorker } from '../start.ts';
import { spreadOf } from './clock.ts';
import { type EngineTime, hearTimes } from './engine-times.ts';
import { inputOf, TRAINING_BALL } from './inputs.ts';

/** A batch to measure: Sobol points round the training ball. */
export interface BatchCase {
  readonly databaseUrl: string;
  readonly depth: 'geometry' | 'full';
  readonly points: number;
  readonly threads: number;
  /** Module of the engine's threads, beside this one. */
  readonly threadFile: 'timed-thread.js' | 'ready-thread.js';
}

export interface BatchMeasure {
  readonly done: number;
  readonly failed: number;
  /** From the first point's beginning to the last one's end, by the records. */
  readonly wallMs: number;
  /** Summed over all runs; zeros of a thread that answers at once. */
  readonly engine: EngineTime;
  /** Of the whole process, engine threads and their collectors included. */
  readonly processCpuMs: number;
  /** Resident memory at its highest, and the median of what it was from the time on when half of the points were done. */
  readonly peakMb: number;
  readonly laterMb: number;
  /** Half way: what the service would have said is left, over what was left. */
  readonly saidOverTrue: number;
}

/** Runs a batch through a worker in a process of its own, so that its memory is its own. Rejects when that process fails. */
export async function measureBatch(what: BatchCase): Promise<BatchMeasure> {
  const child = fork(fileURLToPath(import.meta.url), ['--batch-alone', JSON.stringify(what)]);
  const answered = once(child, 'message') as Promise<[BatchMeasure]>;
  const ended = once(child, 'exit').then(([code]) => Promise.reject(new Error(`the process of the batch ended with ${code}`)));
  return Promise.race([answered.then(([answer]) => answer), ended]);
}

/** How often the batch is looked at; a look costs a few statements. */
const LOOK_MS = 500;

async function runBatch({ databaseUrl, depth, points, threads, threadFile }: BatchCase): Promise<BatchMeasure> {
  const records = openRecords({ databaseUrl });
  const team = await records.teams.create({ name: 'Benchmark' });
  const sum = { wallMs: 0, cpuMs: 0, waitedMs: 0 };
  const times = hearTimes(({ wallMs, cpuMs, waitedMs }) => {
    sum.wallMs += wallMs;
    sum.cpuMs += cpuMs;
    sum.waitedMs += waitedMs;
  });
  const environment = readEnvironment({ DATABASE_URL: databaseUrl, WORKER_THREADS: String(threads) });
  const worker = await startWorker(environment, {
    log: pino({ level: 'silent' }),
    threadFile: new URL(`./${threadFile}`, import.meta.url),
  });
  const cpu = process.cpuUsage();
  const input = await batchInput(depth, points);
  const { id } = await records.undertakings.create(team.id, { kind: 'batch', name: 'measured', input, total: points });
  const look = async () => (await records.undertakings.get(team.id, 'batch', id))!;

  let halfway: { at: number; left: number } | null = null;
  const laterMb: number[] = [];
  let batch: UndertakingRecord;
  while (!(batch = await look()).finishedAt) {
    if (!halfway && batch.done + batch.failed >= points / 2) {
      const { perSecond } = await records.undertakings.progress(id);
      halfway = { at: Date.now(), left: (points - batch.done - batch.failed) / (perSecond ?? 0) };
    }
    if (halfway) laterMb.push(process.memoryUsage.rss() / 1e6);
    await pause(LOOK_MS);
  }
  const { user, system } = process.cpuUsage(cpu);
  await worker.drain();
  times.close();
  await records.close();
  const endedAt = batch.finishedAt.getTime();
  return {
    ...{ done: batch.done, failed: batch.failed, wallMs: endedAt - batch.startedAt!.getTime(), engine: sum },
    processCpuMs: (user + system) / 1000,
    peakMb: process.resourceUsage().maxRSS / 1000, // kilobytes
    laterMb: laterMb.length > 0 ? spreadOf(laterMb).medianMs : Number.NaN,
    saidOverTrue: halfway ? (halfway.left * 1000) / (endedAt - halfway.at) : Number.NaN,
  };
}

async function batchInput(depth: BatchCase['depth'], points: number): Promise<BatchInput> {
  const { tests, ...rest } = await inputOf(TRAINING_BALL);
  return {
    evaluation: { ...rest, tests: { ...tests, depth }, parameterSet: TRAINING_BALL },
    vary: [
      { path: 'layers.0.strutDiameterMm', from: 3.6, to: 4.4 },
      { path: 'layers.1.strutDiameterMm', from: 3, to: 3.8 },
      { path: 'links.strutDiameterMm', from: 3, to: 3.8 },
      { path: 'layers.1.depthMm', from: 12, to: 15 },
    ],
    sampling: { kind: 'sobol', points, seed: 1 },
    stretches: [points],
  };
}

if (process.argv[2] === '--batch-alone') {
  process.send!(await runBatch(JSON.parse(process.argv[3])));
  process.disconnect();
}
