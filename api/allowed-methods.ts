import type { FastifyInstance } from 'fastify';
import { Refusal } from './refusal.ts';

/**
 * Answers 405 with Allow where a path exists but not for that method. Collects every path added from now on; the returned function, called
 * once all are added, gives each path's other methods the refusal.
 */
export function collectMethods(app: FastifyInstance): () => void {
  const urls = new Set<string>();
  app.addHook('onRoute', ({ url }) => void urls.add(url));
  return () => {
    for (const url of [...urls]) {
      const taken = app.supportedMethods.filter((method) => app.hasRoute({ method, url }));
      const allow = taken.sort().join(', ');
      const refuse = () => {
        throw new Refusal('method-not-allowed', { detail: `Allowed here: ${allow}`, headers: { allow } });
      };
      app.route({ method: app.supportedMethods.filter((method) => !taken.includes(method)), url, onRequest: refuse, handler: refuse });
    }
  };
}
