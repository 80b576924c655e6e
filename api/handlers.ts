import type { z } from 'zod';
import type { OperationId, Role, Route, RouteRequest, Routes } from '../openapi/index.ts';

/** Who asks: known from the API key. */
export interface Caller {
  teamId: string;
  keyId: string;
  role: Role;
}

declare module 'fastify' {
  interface FastifyRequest {
    /** null on open routes, and until the key has been checked. */
    caller: Caller | null;
  }
}

type Answer<R extends Route> = R['responses'][keyof R['responses']];
type Body<A> = A extends { schema: infer S extends z.ZodType; mediaType?: undefined } ? z.input<S> : unknown;
type Location<A> = A extends { headers: readonly string[] }
  ? 'Location' extends A['headers'][number]
    ? { location: string }
    : unknown
  : unknown;

/** A handler's answer; the status is the first that the route table gives, or another of it that is named. A `location` is there exactly where the table asks for it. */
export type HandlerReply<R extends Route> = {
  body: Body<Answer<R>>;
  status?: keyof R['responses'];
  headers?: Readonly<Record<string, string>>;
  /** Of a POST: what is to happen once all that the handler stored is there for everybody. */
  afterwards?: () => Promise<void>;
} & Location<Answer<R>>;

export interface HandlerRequest<R extends Route> extends RouteRequest<R> {
  /** Set exactly when the route is not open. */
  caller: R extends { open: true } ? null : Caller;
  headers: Readonly<Record<string, string | string[] | undefined>>;
}

export type Handler<Id extends OperationId> = (request: HandlerRequest<Routes[Id]>) => Promise<HandlerReply<Routes[Id]>>;

/** One handler for each of these operations. */
export type Handlers<Id extends OperationId = OperationId> = { readonly [Each in Id]: Handler<Each> };
