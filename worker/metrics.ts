import { createServer } from 'node:http';
import { Counter, Gauge, Histogram, Registry } from 'prom-client';
import type { Retired } from '../prisma/index.ts';
import type { RunEnd } from './run-failures.ts';

export interface WorkerMetrics {
  ended(end: RunEnd): void;
  retired(retired: Retired): void;
  registry: Registry;
}

/** The worker's numbers, in a registry of their own. `running` is read when the numbers are asked for. */
export function workerMetrics(running: () => number): WorkerMetrics {
  const registry = new Registry();
  const registers = [registry];
  const runs = new Counter({
    name: 'strutwright_worker_runs_total',
    help: 'Runs of the engine by what came of them',
    labelNames: ['outcome'],
    registers,
  });
  const seconds = new Histogram({
    name: 'strutwright_worker_run_seconds',
    help: 'Time from handing a run to the engine to its answer',
    buckets: [0.01, 0.03, 0.1, 0.3, 1, 3, 10, 30, 100],
    registers,
  });
  const retired = new Counter({
    name: 'strutwright_worker_retired_total',
    help: 'What the rules of teams let go',
    labelNames: ['what'],
    registers,
  });
  const retiredBytes = new Counter({
    name: 'strutwright_worker_retired_bytes_total',
    help: 'Bytes that this freed, as they were stored',
    labelNames: ['what'],
    registers,
  });
  new Gauge({
    name: 'strutwright_worker_running',
    help: 'Runs under way',
    registers,
    collect() {
      this.set(running());
    },
  });
  return {
    registry,
    ended: ({ answer, seconds: taken }) => {
      runs.inc({ outcome: answer.kind === 'crashed' ? answer.code : answer.kind });
      seconds.observe(taken);
    },
    retired: ({ madeFiles, pointResults }) => {
      for (const [what, { count, bytes }] of Object.entries({ 'made-file': madeFiles, 'point-result': pointResults })) {
        retired.inc({ what }, count);
        retiredBytes.inc({ what }, bytes);
      }
    },
  };
}

/** Serves the registry at /metrics on 127.0.0.1. Rejects when the port is taken. */
export async function serveMetrics(registry: Registry, port: number): Promise<{ close(): Promise<void> }> {
  const server = createServer(async (request, response) => {
    if (request.url !== '/metrics') return void response.writeHead(404).end();
    response.writeHead(200, { 'content-type': registry.contentType }).end(await registry.metrics());
  });
  await new Promise<void>((resolve, reject) => server.once('error', reject).listen(port, '127.0.0.1', resolve));
  return { close: () => new Promise((resolve) => void server.close(() => resolve())) };
}
