import compress from '@fastify/compress';
import helmet from '@fastify/helmet';
import type { FastifyInstance } from 'fastify';
import { refuseUnderPressure } from './pressure.ts';

/** Headers that every answer carries, its compression, and protection from overload. */
export async function guard(app: FastifyInstance): Promise<void> {
  await refuseUnderPressure(app);
  await app.register(helmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: { defaultSrc: ["'self'"], imgSrc: ["'self'", 'data:'], frameAncestors: ["'none'"] },
    },
    // The service itself speaks plain HTTP; whoever puts TLS in front decides about this header.
    strictTransportSecurity: false,
  });
  await app.register(compress, { globalDecompression: false, encodings: ['gzip'] });
  app.addHook('onRequest', async (request, reply) => {
    if (request.url.startsWith('/v1/')) reply.header('cache-control', 'private, no-cache');
  });
}
