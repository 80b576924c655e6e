import { z } from 'zod';

/** One sentence per kind of failure: HTTP status and title. The code is also the tail of the `type` URI. */
export const PROBLEMS = {
  'malformed-body': { status: 400, title: 'The body is not well-formed' },
  'invalid-query': { status: 400, title: 'A query parameter is not valid' },
  'invalid-path': { status: 400, title: 'A part of the path is not valid' },
  'bad-request': { status: 400, title: 'The request cannot be understood' },
  'invalid-header': { status: 400, title: 'A header is not valid' },
  unauthorized: { status: 401, title: 'A valid API key is needed' },
  forbidden: { status: 403, title: 'This API key may not do this' },
  'not-found': { status: 404, title: 'There is no such resource' },
  'file-not-made': { status: 404, title: 'The file has not been made' },
  'no-such-route': { status: 404, title: 'There is no such route' },
  'method-not-allowed': { status: 405, title: 'The route does not answer this method' },
  'not-acceptable': { status: 406, title: 'No answer of the accepted media types exists' },
  'key-taken': { status: 409, title: 'The key belongs to a built-in record' },
  duplicate: { status: 409, title: 'The team has this already' },
  archived: { status: 409, title: 'The resource is archived' },
  'not-finished': { status: 409, title: 'The run has not finished' },
  thinned: { status: 409, title: 'The whole result is no longer kept' },
  'already-finished': { status: 409, title: 'The run has already finished' },
  'last-admin-key': { status: 409, title: 'The last admin key of a team cannot be revoked' },
  'idempotency-key-in-use': { status: 409, title: 'The first request with this Idempotency-Key is still being answered' },
  'body-too-large': { status: 413, title: 'The body is too large' },
  'uri-too-long': { status: 414, title: 'The URI is too long' },
  'unsupported-media-type': { status: 415, title: 'The body is not of the media type that the route takes' },
  'range-not-satisfiable': { status: 416, title: 'The file has no such bytes' },
  'invalid-body': { status: 422, title: 'The body is not valid' },
  'idempotency-key-reused': { status: 422, title: 'This Idempotency-Key was used for another request' },
  'too-many-requests': { status: 429, title: 'Too many requests' },
  'headers-too-large': { status: 431, title: 'The headers are too large' },
  internal: { status: 500, title: 'The service failed' },
  'too-slow': { status: 503, title: 'The question takes too long to answer' },
  overloaded: { status: 503, title: 'The service is overloaded' },
  unavailable: { status: 503, title: 'A service this one depends on is not reachable' },
} as const;
export type ProblemCode = keyof typeof PROBLEMS;
export const PROBLEM_CODES = Object.keys(PROBLEMS) as [ProblemCode, ...ProblemCode[]];
export const PROBLEM_MEDIA_TYPE = 'application/problem+json';

export const fieldError = z
  .strictObject({
    pointer: z
      .string()
      .meta({ description: 'JSON Pointer (RFC 6901) into the body, the query or the path', examples: ['/layers/1/depthMm'] }),
    value: z
      .unknown()
      .optional()
      .meta({ description: 'The value refused, shortened; absent when the field is missing', examples: [-1] }),
    detail: z.string().meta({ description: 'What is wrong and what is allowed', examples: ['is -1; allowed: at least 0, at most 500'] }),
  })
  .meta({ id: 'FieldError' });
export type FieldError = z.infer<typeof fieldError>;

export const problem = z
  .strictObject({
    type: z.string().meta({ description: 'URI reference of the kind of problem', examples: ['/problems/invalid-body'] }),
    title: z.string(),
    status: z.int().min(400).max(599),
    detail: z.string(),
    code: z.enum(PROBLEM_CODES),
    errors: z.array(fieldError),
    requestId: z.string(),
  })
  .meta({ id: 'Problem', description: 'Problem details (RFC 9457)' });
export type Problem = z.infer<typeof problem>;

export interface Occurrence {
  detail?: string;
  errors?: readonly FieldError[];
  requestId: string;
}

/** Problem details of one occurrence. Without a detail the fields are told; without fields the title is. */
export function problemDetails(code: ProblemCode, { detail, errors = [], requestId }: Occurrence): Problem {
  const { status, title } = PROBLEMS[code];
  const told = errors.slice(0, 3).map((each) => `${each.pointer || 'the whole'} ${each.detail}`);
  const rest = errors.length > told.length ? [`and ${errors.length - told.length} more`] : [];
  return {
    type: `/problems/${code}`,
    title,
    status,
    detail: detail ?? ([...told, ...rest].join(' | ') || title),
    code,
    errors: [...errors],
    requestId,
  };
}
