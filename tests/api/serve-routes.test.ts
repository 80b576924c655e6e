import fastify from 'fastify';
import { describe, expect, test } from 'vitest';
import type { Handlers } from '../../api/handlers.ts';
import { refuseUnserved, serveRoutes } from '../../api/serve-routes.ts';
import { type OperationId, routes } from '../../openapi/index.ts';

const ids = Object.keys(routes) as OperationId[];
const handlersFor = (served: OperationId[]) =>
  Object.fromEntries(served.map((id) => [id, async () => ({ body: {} })])) as Partial<Handlers>;

describe('the route table', () => {
  test('is served when each operation has a handler', () => {
    const app = fastify();
    serveRoutes(app, handlersFor(ids), () => ({}));
    expect(() => refuseUnserved(app)).not.toThrow();
  });

  test('with an operation that nobody handles stops the start and names it', () => {
    for (const missing of ids) {
      const app = fastify();
      const others = ids.filter((id) => id !== missing);
      serveRoutes(app, handlersFor(others), () => ({}));
      expect(() => refuseUnserved(app), missing).toThrow(new RegExp(`No handler serves ${missing}$`));
    }
  });

  test('with two handlers for one operation stops the start', () => {
    const app = fastify();
    serveRoutes(app, handlersFor(['listDesigns']), () => ({}));
    expect(() => serveRoutes(app, handlersFor(['listDesigns']), () => ({}))).toThrow(/already declared/);
  });
});
