import underPressure from '@fastify/under-pressure';
import type { FastifyInstance } from 'fastify';
import { Refusal } from './refusal.ts';

/** Share of the last sample in which the event loop had no pause ... */
const BUSY = 0.98;
/**
 * ... and the mean wait of a callback in it. Only both together mean overload: a short burst keeps the loop busy without anybody waiting.
 */
const LONG_WAIT_MS = 600;
const ALWAYS_ANSWERED = new Set(['/livez', '/metrics']);

/** Refuses work with 503 while the event loop is overloaded, so that what was taken on is finished. */
export async function refuseUnderPressure(app: FastifyInstance, { sampleMs = 1_000 } = {}): Promise<void> {
  await app.register(underPressure, {
    sampleInterval: sampleMs,
    maxEventLoopUtilization: BUSY,
    eventLoopUtilizationMode: 'interval',
    pressureHandler: (request) => {
      if (ALWAYS_ANSWERED.has(request.routeOptions.url ?? '') || app.memoryUsage().eventLoopDelay < LONG_WAIT_MS) return;
      throw new Refusal('overloaded', { headers: { 'retry-after': '2' } });
    },
  });
}
