import { fileURLToPath } from 'node:url';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';

/** Where the build puts them, seen from this file as it is written and as it is compiled. */
const ROOT = fileURLToPath(new URL(import.meta.url.endsWith('.ts') ? '../dist/dashboard/' : '../dashboard/', import.meta.url));
const A_YEAR_MS = 31_536_000_000;

/** Serves the dashboard: its page at /, its files below /assets/. Files named by their content may be kept for good, the others are asked for again. */
export async function dashboardFiles(app: FastifyInstance): Promise<void> {
  await app.register(fastifyStatic, {
    root: ROOT,
    prefix: '/assets/',
    setHeaders: (reply, path) => {
      reply.header('cache-control', /-[A-Z0-9]{8}\.\w+$/.test(path) ? `public, max-age=${A_YEAR_MS / 1000}, immutable` : 'no-cache');
    },
  });
  app.get('/', { schema: { hide: true } as object }, (_request, reply) => reply.header('cache-control', 'no-cache').sendFile('index.html'));
}
