import type { FastifyInstance, FastifyRequest, RouteOptions } from 'fastify';
import type { z } from 'zod';
import { type ProblemCode, type Route, routes, validate } from '../openapi/index.ts';
import { refuseUnacceptable } from './accept.ts';
import type { Caller, Handlers } from './handlers.ts';
import { Refusal } from './refusal.ts';

const FAULT_OF: Readonly<Record<string, ProblemCode>> = {
  body: 'invalid-body',
  querystring: 'invalid-query',
  params: 'invalid-path',
};

type AnyHandler = (request: {
  params: unknown;
  query: unknown;
  body: unknown;
  caller: Caller | null;
  headers: unknown;
}) => Promise<AnyReply>;
interface AnyReply {
  body: unknown;
  status?: number;
  location?: string;
  headers?: Readonly<Record<string, string>>;
}

/**
 * Serves every operation that has a handler, as the route table describes it: checks params, query and body against its schemas (a missing
 * body counts as undefined), then answers with a status of the table, the first unless the handler names another. What else a route is to have (conditions of access, a time limit),
 * `settings` gives.
 */
export function serveRoutes(app: FastifyInstance, handlers: Partial<Handlers>, settings: (route: Route) => Partial<RouteOptions>): void {
  for (const [id, handler] of Object.entries(handlers) as [keyof typeof routes, AnyHandler][]) {
    const route: Route = routes[id];
    const usual = Number(Object.keys(route.responses)[0]);
    app.route({
      method: route.method,
      url: route.url,
      ...settings(route),
      preValidation: (request, _reply, done) => {
        refuseUnacceptable(request.headers.accept, route.responses[usual]);
        done();
      },
      schema: {
        ...(route.params && { params: route.params }),
        ...(route.query && { querystring: route.query }),
        ...(route.body && { body: route.body }),
      },
      validatorCompiler: ({ schema, httpPart }) => validator(schema as unknown as z.ZodType, httpPart ?? 'body'),
      handler: async (request, reply) => {
        const { body, status = usual, location, headers = {} } = await handler(asked(request));
        if (location) reply.header('location', location);
        return reply.code(status).headers(headers).send(body);
      },
    });
  }
}

const asked = ({ params, query, body, caller, headers }: FastifyRequest) => ({ params, query, body, caller, headers });

const validator = (schema: z.ZodType, part: string) => (data: unknown) => {
  const checked = validate(schema, part === 'body' && data === null ? undefined : data);
  return checked.ok ? { value: checked.value } : { error: new Refusal(FAULT_OF[part], { errors: checked.errors }) };
};

/** Throws unless each route of the table is served; that none is served twice is seen to by the router. */
export function refuseUnserved(app: FastifyInstance): void {
  const unserved = Object.entries(routes).filter(([, { method, url }]) => !app.hasRoute({ method, url }));
  if (unserved.length > 0) throw new Error(`No handler serves ${unserved.map(([id]) => id).join(', ')}`);
}
