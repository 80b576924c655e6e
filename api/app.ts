import { randomUUID } from 'node:crypto';
import fastify, { type FastifyBaseLogger, type FastifyInstance, type RouteOptions } from 'fastify';
import type { Route } from '../openapi/index.ts';
import type { Records } from '../prisma/index.ts';
import { type AccessOptions, accessRules } from './access.ts';
import { collectMethods } from './allowed-methods.ts';
import { readBodies } from './body.ts';
import type { Changes } from './changes.ts';
import { answerConditionally } from './conditional.ts';
import { dashboardFiles } from './dashboard-files.ts';
import { documentation } from './documentation.ts';
import { type EventsOptions, eventHandlers } from './events.ts';
import { guard } from './guard.ts';
import { healthHandlers } from './health.ts';
import { idempotent } from './idempotency.ts';
import { metricsHandlers } from './metrics.ts';
import { refuseConnection, sendProblem } from './problem-mapper.ts';
import type { Dispatch } from './queue.ts';
import { Refusal } from './refusal.ts';
import { resourceHandlers } from './resources.ts';
import { refuseUnserved, serveRoutes } from './serve-routes.ts';

const LARGEST_BODY = 1_048_576;
/** Longest time for a request to arrive whole. */
const REQUEST_MS = 30_000;
const DOWNLOAD_MS = 300_000;
const STREAM_MS = 1_000_000;
const LONGEST_PARAMETER = 200;

export interface AppOptions extends Pick<AccessOptions, 'limits' | 'redis'> {
  records: Records;
  dispatch: Dispatch;
  log: FastifyBaseLogger;
  isClosing(): boolean;
  /** Tells of changes at once; without it, or while it is away, they are seen within two seconds. */
  changes?: Changes;
  /** Times of the event streams. */
  eventTimes?: EventsOptions['times'];
  /** Longest time for an answer to begin; after it 503 is answered. A download has longer. Default 15 s. */
  answerWithinMs?: number;
}

/**
 * Builds the HTTP door, not yet listening. What it is given stays the caller's to close. Throws unless each route of the table is served
 * once.
 */
export async function buildApp(options: AppOptions): Promise<FastifyInstance> {
  const { records, dispatch, log, limits, redis, isClosing, changes = null, answerWithinMs = 15_000 } = options;
  const app = emptyApp(log);
  const refuseOtherMethods = collectMethods(app);
  await guard(app);
  const access = await accessRules(app, { keys: records.keys, limits, redis });

  const handlers = {
    ...idempotent({ records, handlersOver: (inside) => resourceHandlers({ records: inside, dispatch, log }) }),
    ...eventHandlers(app, { evaluations: records.evaluations, changes, times: options.eventTimes }),
    ...healthHandlers({ records, dispatch, isClosing }),
    ...metricsHandlers(app, { records, dispatch }),
    ...(await documentation(app)),
  };
  await dashboardFiles(app);
  await app.register(async (scope) => {
    await answerConditionally(scope);
    serveRoutes(scope, handlers, (route) => ({
      ...access(route),
      ...bodySettings(route, answerWithinMs),
    }));
  });
  refuseOtherMethods();
  await app.ready();
  refuseUnserved(app);
  return app;
}

const answersWith = (route: Route, type: string) => Object.values(route.responses).some(({ mediaType }) => mediaType === type);

/**
 * A download may be of any size, which a slow client takes long to read, and compresses itself, as a part of it must not be. A stream of
 * events ends by itself. Only what is read as a file may be larger than other bodies.
 */
function bodySettings(route: Route, usual: number): Partial<RouteOptions> {
  if (route.takes) return { config: { takes: route.takes }, bodyLimit: route.largestBody, handlerTimeout: usual };
  if (answersWith(route, 'application/octet-stream')) return { handlerTimeout: DOWNLOAD_MS, compress: false };
  return { handlerTimeout: answersWith(route, 'text/event-stream') ? STREAM_MS : usual };
}

/** Problem details for everything that goes wrong, wherever it does. */
function emptyApp(log: FastifyBaseLogger): FastifyInstance {
  const app = fastify({
    loggerInstance: log,
    genReqId: () => randomUUID(),
    bodyLimit: LARGEST_BODY,
    requestTimeout: REQUEST_MS,
    routerOptions: { maxParamLength: LONGEST_PARAMETER },
    return503OnClosing: false,
    clientErrorHandler: refuseConnection,
    frameworkErrors: sendProblem,
  });
  app.setErrorHandler(sendProblem);
  app.setNotFoundHandler((request) => {
    throw new Refusal('no-such-route', { detail: `Nothing answers ${request.method} ${request.url.slice(0, 200)}` });
  });
  app.decorateRequest('caller', null);
  readBodies(app);
  return app;
}
