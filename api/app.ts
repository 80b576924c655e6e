import { randomUUID } from 'node:crypto';
import compress from '@fastify/compress';
import helmet from '@fastify/helmet';
import fastify, { type FastifyBaseLogger, type FastifyInstance } from 'fastify';
import type { Records } from '../prisma/index.ts';
import { type AccessOptions, accessRules } from './access.ts';
import { collectMethods } from './allowed-methods.ts';
import { readJsonBodies } from './body.ts';
import { buildVolumeHandlers, buildVolumeRecords } from './build-volumes.ts';
import { answerConditionally } from './conditional.ts';
import { designHandlers } from './designs.ts';
import { documentation } from './documentation.ts';
import { evaluationHandlers } from './evaluations.ts';
import { fileHandlers } from './files.ts';
import { healthHandlers } from './health.ts';
import { historyHandlers } from './history.ts';
import { keyHandlers } from './keys.ts';
import { teamLookup } from './lookup.ts';
import { materialHandlers, materialRecords } from './materials.ts';
import { metricsHandlers } from './metrics.ts';
import { refuseUnderPressure } from './pressure.ts';
import { refuseConnection, sendProblem } from './problem-mapper.ts';
import type { Dispatch } from './queue.ts';
import { referenceHandlers, referenceRecords } from './references.ts';
import { Refusal } from './refusal.ts';
import { refuseUnserved, serveRoutes } from './serve-routes.ts';
import { versionHandlers } from './versions.ts';

const LARGEST_BODY = 1_048_576;
/** Longest time for a request to arrive whole. */
const REQUEST_MS = 30_000;
const LONGEST_PARAMETER = 200;

export interface AppOptions extends Pick<AccessOptions, 'limits' | 'redis'> {
  records: Records;
  dispatch: Dispatch;
  log: FastifyBaseLogger;
  isClosing(): boolean;
}

/** Builds the HTTP door, not yet listening. What it is given stays the caller's to close. Throws unless each route of the table is served once. */
export async function buildApp({ records, dispatch, log, limits, redis, isClosing }: AppOptions): Promise<FastifyInstance> {
  const app = emptyApp(log);
  const refuseOtherMethods = collectMethods(app);
  await guard(app);
  const access = await accessRules(app, { keys: records.keys, limits, redis });

  const material = materialRecords(records.materials);
  const buildVolume = buildVolumeRecords(records.buildVolumes);
  const reference = referenceRecords(records.references);
  const lookup = teamLookup({ material, buildVolume, reference });
  const handlers = {
    ...materialHandlers(material),
    ...buildVolumeHandlers(buildVolume),
    ...referenceHandlers(reference),
    ...designHandlers(records.designs),
    ...versionHandlers(records.versions),
    ...evaluationHandlers({ records, lookup, dispatch, log }),
    ...historyHandlers(records.evaluations),
    ...fileHandlers(records),
    ...keyHandlers(records),
    ...healthHandlers({ records, dispatch, isClosing }),
    ...metricsHandlers(app, { records, dispatch }),
    ...(await documentation(app)),
  };
  await app.register(async (scope) => {
    await answerConditionally(scope);
    serveRoutes(scope, handlers, access);
  });
  refuseOtherMethods();
  await app.ready();
  refuseUnserved(app);
  return app;
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
  readJsonBodies(app);
  return app;
}

/** Headers that every answer carries, its compression, and protection from overload. */
async function guard(app: FastifyInstance): Promise<void> {
  await refuseUnderPressure(app);
  await app.register(helmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'self'"],
        imgSrc: ["'self'", 'data:'],
        styleSrc: ["'self'", "'unsafe-inline'"],
        frameAncestors: ["'none'"],
      },
    },
    // The service itself speaks plain HTTP; whoever puts TLS in front decides about this header.
    strictTransportSecurity: false,
  });
  await app.register(compress, { globalDecompression: false, encodings: ['gzip'] });
  app.addHook('onRequest', async (request, reply) => {
    if (request.url.startsWith('/v1/')) reply.header('cache-control', 'private, no-cache');
  });
}
