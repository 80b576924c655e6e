import rateLimit from '@fastify/rate-limit';
import type { FastifyInstance, FastifyRequest, RouteOptions } from 'fastify';
import type { Redis } from 'ioredis';
import type { Route } from '../openapi/index.ts';
import type { Keys } from '../prisma/index.ts';
import { authenticator, tooMany } from './authenticate.ts';

const WINDOW_MS = 60_000;

export interface AccessOptions {
  keys: Keys;
  /** Requests of one key, and failed log-ins of one address, within a minute. */
  limits: { requests: number; failedLogIns: number };
  /** Where several processes count together; null: this process counts alone. */
  redis: Redis | null;
}

/**
 * What a route needs before its body is even read: a valid key of its role, and a key that has not asked too often. A store of counts that
 * is away lets requests pass. Open routes need nothing.
 */
export async function accessRules(
  app: FastifyInstance,
  { keys, limits, redis }: AccessOptions,
): Promise<(route: Route) => Partial<RouteOptions>> {
  await app.register(rateLimit, { global: false, nameSpace: 'strutwright-limit-', ...(redis ? { redis } : {}) });
  const counter = (max: number, keyGenerator: (request: FastifyRequest) => string) => {
    const count = app.createRateLimit({ max, timeWindow: WINDOW_MS, keyGenerator, skipOnError: true });
    return async (request: FastifyRequest): Promise<number | null> => {
      const counted = await count(request);
      return !counted.isAllowed && counted.isExceeded ? counted.ttlInSeconds : null;
    };
  };
  const countFailure = counter(limits.failedLogIns, (request) => `failed ${rateLimit.normalizeIP(request.ip)}`);
  const countRequest = counter(limits.requests, (request) => `key ${request.caller?.keyId}`);
  const authenticate = authenticator({ keys, countFailure });

  return (route) => {
    if (route.open) return {};
    return {
      onRequest: async (request) => {
        request.caller = await authenticate(request, route.role);
        const seconds = await countRequest(request);
        if (seconds !== null) throw tooMany(seconds, 'Too many requests with this key');
      },
    };
  };
}
