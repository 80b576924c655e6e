import type { FastifyInstance } from 'fastify';
import { collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client';
import type { Records } from '../prisma/index.ts';
import type { Handlers } from './handlers.ts';
import type { Dispatch } from './queue.ts';

/** The route is open, so its questions to database and queue are asked at most this often. */
const ASK_EVERY_MS = 5_000;

export interface MetricsOptions {
  records: Pick<Records, 'computations'>;
  dispatch: Pick<Dispatch, 'counts'>;
}

/**
 * Times every request by route template, and answers /metrics: of the process, its requests, the queue and the runs; nothing of any team.
 */
export function metricsHandlers(app: FastifyInstance, { records, dispatch }: MetricsOptions): Handlers<'metrics'> {
  const registry = new Registry();
  collectDefaultMetrics({ register: registry });
  timeRequests(app, registry);
  const refreshRuns = counted(registry, 'strutwright_computations', 'Computations by status', 'status', () =>
    records.computations.counts(),
  );
  const refreshJobs = counted(registry, 'strutwright_queue_jobs', 'Jobs on the queue by state', 'state', () => dispatch.counts());
  return {
    metrics: async () => {
      await Promise.all([refreshRuns(), refreshJobs()]);
      return { body: await registry.metrics(), headers: { 'content-type': registry.contentType } };
    },
  };
}

function timeRequests(app: FastifyInstance, registry: Registry): void {
  const seconds = new Histogram({
    name: 'http_request_duration_seconds',
    help: 'Time from a request to the end of its answer, by method, route template and status',
    labelNames: ['method', 'route', 'status'],
    buckets: [0.002, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 10],
    registers: [registry],
  });
  app.addHook('onResponse', async (request, reply) => {
    const route = request.routeOptions.url ?? 'none';
    seconds.observe({ method: request.method, route, status: reply.statusCode }, reply.elapsedTime / 1000);
  });
}

/** A gauge of counts by one label; a count that cannot be had is left out of the answer instead of failing it. */
function counted(registry: Registry, name: string, help: string, label: string, ask: () => Promise<object>): () => Promise<void> {
  const gauge = new Gauge({ name, help, labelNames: [label], registers: [registry] });
  let askedAt = Number.NEGATIVE_INFINITY;
  return async () => {
    if (performance.now() - askedAt < ASK_EVERY_MS) return;
    askedAt = performance.now();
    const counts = await ask().catch(() => ({}));
    gauge.reset();
    for (const [value, count] of Object.entries(counts)) gauge.set({ [label]: value }, count);
  };
}
