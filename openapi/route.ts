import type { z } from 'zod';
import type { Role } from './key.ts';
import type { ProblemCode } from './problems.ts';

export type AnswerHeader = 'Location' | 'ETag' | 'Accept-Ranges' | 'Content-Range' | 'Content-Digest' | 'Repr-Digest';

export interface Answer {
  description: string;
  /** Absent: no body. */
  schema?: z.ZodType;
  /** Default: application/json. */
  mediaType?: string;
  headers?: readonly AnswerHeader[];
  example?: unknown;
}

/** One route of the service. The api serves exactly these, the document describes exactly these. */
export interface Route {
  method: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE';
  /** With parameters in `:name` style. */
  url: string;
  tag: 'evaluations' | 'batches' | 'searches' | 'trays' | 'designs' | 'test house' | 'records' | 'keys' | 'service';
  summary: string;
  description?: string;
  /** Answers without a key. */
  open?: true;
  /** Only keys of this role; default: any key. */
  role?: Role;
  /** The answer holds a secret that is shown this once. */
  secret?: true;
  params?: z.ZodObject;
  query?: z.ZodObject;
  body?: z.ZodType;
  bodyExample?: unknown;
  /** Media type of the body; default: application/json. */
  takes?: 'text/csv';
  /** Bytes of the body at most, where that is not the usual. */
  largestBody?: number;
  /** By HTTP status; problems are not listed here. */
  responses: Readonly<Record<number, Answer>>;
  /** Problems beyond those that follow from the rest of the route (see problemsOf). */
  problems?: readonly ProblemCode[];
}

const IDEMPOTENCY_PROBLEMS = ['invalid-header', 'idempotency-key-in-use', 'idempotency-key-reused'] as const;

/** Every problem a route may answer with. */
export function problemsOf(route: Route): ProblemCode[] {
  return [
    ...(route.query ? (['invalid-query'] as const) : []),
    ...(route.params ? (['invalid-path', 'not-found'] as const) : []),
    ...(route.body ? (['malformed-body', 'body-too-large', 'unsupported-media-type', 'invalid-body'] as const) : []),
    ...(route.open ? [] : (['unauthorized', 'too-many-requests', 'unavailable'] as const)),
    ...(route.method === 'POST' ? IDEMPOTENCY_PROBLEMS : []),
    ...(route.role ? (['forbidden'] as const) : []),
    ...(route.problems ?? []),
    'not-acceptable',
    'overloaded',
    'internal',
  ];
}

type Output<S> = S extends z.ZodType ? z.output<S> : undefined;
/** What the handler of a route is given once its request has been checked. */
export interface RouteRequest<R extends Route> {
  params: Output<R['params']>;
  query: Output<R['query']>;
  body: Output<R['body']>;
}
