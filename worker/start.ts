import { randomUUID } from 'node:crypto';
import { hostname } from 'node:os';
import { pid } from 'node:process';
import { setTimeout as pause } from 'node:timers/promises';
import type { Logger } from 'pino';
import { openRecords, type Records } from '../prisma/index.ts';
import { batchUndertaking } from './batches.ts';
import { openConductor } from './conductor.ts';
import { openEnginePool } from './engine-pool.ts';
import type { Environment } from './environment.ts';
import { evaluateHandler } from './evaluate-job.ts';
import { serveMetrics, workerMetrics } from './metrics.ts';
import { processorOf } from './processor.ts';
import { openWorkQueue } from './queue.ts';
import { reevaluationUndertaking } from './reevaluations.ts';
import type { RunEnd } from './run-failures.ts';
import { searchUndertaking } from './searches.ts';
import { openSweeper } from './sweeper.ts';
import { openWatch } from './watch.ts';

export interface RunningWorker {
  /** Takes no further job, gives the runs under way back to the queue uncharged, closes everything. */
  drain(): Promise<void>;
}

/** How long a starting worker waits for a database that is not migrated yet (the API does that). */
const READY_WITHIN_MS = 60_000;

/** Starts a worker: records, engine threads, queue, sweeper. `threadFile` is the module the engine's threads run. Whoever starts it drains it. */
export async function startWorker(environment: Environment, { log, threadFile }: { log: Logger; threadFile: URL }): Promise<RunningWorker> {
  const { databaseUrl, threads } = environment;
  const workerId = `${hostname()}:${pid}:${randomUUID().slice(0, 8)}`;
  const toldBy = (part: string) => (error: Error) => log.warn({ part, err: error }, 'connection or work failed; it is tried again');
  const draining = new AbortController();

  const pool = await openEnginePool({ threadFile, threads, memoryMb: environment.threadMemoryMb, onError: toldBy('engine') });
  const records = openRecords({ databaseUrl, poolSize: threads + 3, onError: toldBy('records') });
  await untilReady(records, log);
  const { computations } = records;
  const watch = await openWatch({ databaseUrl, computations, onError: toldBy('watch') });
  const metrics = workerMetrics(() => watch.size);
  const onEnd = (end: RunEnd) => {
    metrics.ended(end);
    logEnd(log, end);
  };
  const process = processorOf([evaluateHandler({ computations, pool, watch, workerId, draining: draining.signal, onEnd })]);
  const queue = await openWorkQueue({ ...environment, concurrency: threads, process, onError: toldBy('queue') });
  const sweeper = openSweeper({
    computations,
    idempotency: records.idempotency,
    retention: records.retention,
    onRetired: (retired) => {
      metrics.retired(retired);
      log.info(retired, 'let go by the rules of the team');
    },
    queue,
    afterMs: environment.sweepAfterMs,
    onError: toldBy('sweeper'),
  });
  const undertakings = [searchUndertaking, batchUndertaking, reevaluationUndertaking].map((kind) => kind({ records, queue }));
  const conductor = await openConductor({ databaseUrl, undertakings, onError: toldBy('conductor') });
  const metricsServer = environment.metricsPort === null ? null : await serveMetrics(metrics.registry, environment.metricsPort);
  queue.start();
  log.info({ workerId, threads, queue: environment.redisUrl ? 'redis' : 'postgresql' }, 'worker started');

  return {
    drain: async () => {
      log.info({ running: watch.size }, 'draining');
      draining.abort();
      await conductor.close();
      await queue.pause();
      watch.stopAll();
      await queue.close();
      await sweeper.close();
      await watch.close();
      await pool.close();
      await metricsServer?.close();
      await records.close();
      log.info('worker stopped');
    },
  };
}

async function untilReady(records: Records, log: Logger): Promise<void> {
  const deadline = Date.now() + READY_WITHIN_MS;
  for (let told = false; ; told = true) {
    try {
      return await records.ready();
    } catch (error) {
      if (Date.now() > deadline) throw error;
      if (!told) log.info({ reason: String(error) }, 'waiting for the database');
      await pause(500);
    }
  }
}

function logEnd(log: Logger, { answer, ...end }: RunEnd): void {
  const at = { ...end, outcome: answer.kind };
  if (answer.kind === 'defect') log.error({ ...at, trace: answer.trace }, 'the engine threw');
  else if (answer.kind === 'crashed') log.error({ ...at, code: answer.code, reason: answer.reason }, "the engine's thread ended");
  else log.info(at, 'run ended');
}
