import { randomUUID } from 'node:crypto';
import { STATUS_CODES } from 'node:http';
import type { Socket } from 'node:net';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { PROBLEM_MEDIA_TYPE, PROBLEMS, type ProblemCode, problemDetails } from '../openapi/index.ts';
import { RecordFault, type RecordFaultCode } from '../prisma/index.ts';
import { QueueUnavailable } from './queue.ts';
import { Refusal } from './refusal.ts';

const FRAMEWORK: Readonly<Record<string, ProblemCode>> = {
  FST_ERR_CTP_BODY_TOO_LARGE: 'body-too-large',
  FST_ERR_CTP_INVALID_MEDIA_TYPE: 'unsupported-media-type',
  FST_ERR_BAD_URL: 'invalid-path',
  FST_ERR_MAX_PARAM_LENGTH: 'uri-too-long',
  FST_UNDER_PRESSURE: 'overloaded',
  FST_ERR_HANDLER_TIMEOUT: 'unavailable',
};

/** Without a pointer the field of the fault is one already. */
const RECORDS: Readonly<Record<RecordFaultCode, { code: ProblemCode; pointer?: string }>> = {
  'cursor-unreadable': { code: 'invalid-query', pointer: '/cursor' },
  'cursor-of-another-sort': { code: 'invalid-query', pointer: '/cursor' },
  'limit-out-of-range': { code: 'invalid-query', pointer: '/limit' },
  'based-on-unknown': { code: 'invalid-body', pointer: '/basedOn' },
  'design-archived': { code: 'archived', pointer: '' },
  'last-admin-key': { code: 'last-admin-key', pointer: '' },
  'too-slow': { code: 'too-slow', pointer: '' },
  'serial-taken': { code: 'duplicate' },
  'measurement-known': { code: 'duplicate', pointer: '' },
};

/** Codes of the network, of PostgreSQL and of its client that mean: not reachable now, or too busy to connect to. */
const AWAY =
  /^(ECONN(REFUSED|RESET|ABORTED)|ETIMEDOUT|ENOTFOUND|EAI_AGAIN|EHOSTUNREACH|EPIPE|57P0[123]|08\d{3}|53300|P100[128]|P1017|P2024)$/;
const AWAY_KINDS = new Set(['DatabaseNotReachable', 'ConnectionClosed', 'SocketTimeout', 'TooManyConnections', 'TlsConnectionError']);
const AWAY_WORDS = /connection (terminated|ended|timeout)|timeout exceeded when trying to connect|cannot use a pool after|not queryable/i;
const DEEPEST_CAUSE = 5;
const LATER = { headers: { 'retry-after': '5' } };

/** Whether an error, or what caused it, says that the database cannot be reached. */
function isAway(error: unknown, depth = 0): boolean {
  if (typeof error !== 'object' || error === null || depth > DEEPEST_CAUSE) return false;
  const { code, kind, message, cause, errors } = error as Record<string, unknown>;
  if (typeof code === 'string' && AWAY.test(code)) return true;
  if (typeof kind === 'string' && AWAY_KINDS.has(kind)) return true;
  if (typeof message === 'string' && AWAY_WORDS.test(message)) return true;
  return isAway(cause, depth + 1) || (Array.isArray(errors) && errors.some((each) => isAway(each, depth + 1)));
}

/** What any thrown value means to the client. What is not known to be the client's doing is `internal` and tells nothing. */
export function refusalOf(error: unknown): Refusal {
  if (error instanceof Refusal) return error;
  if (error instanceof RecordFault) {
    const { code, pointer = error.field } = RECORDS[error.code];
    if (!pointer) return new Refusal(code, { detail: error.message });
    return new Refusal(code, { errors: [{ pointer, value: error.value, detail: error.message }] });
  }
  if (error instanceof QueueUnavailable || isAway(error)) return new Refusal('unavailable', LATER);
  const { code, statusCode } = (error ?? {}) as { code?: unknown; statusCode?: unknown };
  const known = typeof code === 'string' ? FRAMEWORK[code] : undefined;
  if (known) return new Refusal(known, PROBLEMS[known].status === 503 ? LATER : {});
  return new Refusal(typeof statusCode === 'number' && statusCode >= 400 && statusCode < 500 ? 'bad-request' : 'internal');
}

/** Sends the problem details of anything thrown; what is the service's own fault is logged in full and answered without a word of it. */
export function sendProblem(error: unknown, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  const refusal = refusalOf(error);
  const { status } = PROBLEMS[refusal.code];
  if (status >= 500) request.log.error({ err: error }, refusal.code);
  // The rest of a body that was refused is read and dropped: closing at once could reset the connection before the client has its answer.
  reply.removeHeader('connection');
  const { detail, errors, headers } = refusal;
  return reply
    .code(status)
    .headers(headers)
    .type(PROBLEM_MEDIA_TYPE)
    .serializer((problem: unknown) => JSON.stringify(problem))
    .send(problemDetails(refusal.code, { detail, errors, requestId: request.id }));
}

/** What came over the connection is no HTTP request that could be routed: answers it by hand and closes. */
export function refuseConnection(error: NodeJS.ErrnoException, socket: Socket): void {
  if (error.code === 'ECONNRESET' || !socket.writable) return void socket.destroy();
  const problem = problemDetails(error.code === 'HPE_HEADER_OVERFLOW' ? 'headers-too-large' : 'bad-request', { requestId: randomUUID() });
  const body = JSON.stringify(problem);
  const head = [
    `HTTP/1.1 ${problem.status} ${STATUS_CODES[problem.status]}`,
    `content-type: ${PROBLEM_MEDIA_TYPE}`,
    `content-length: ${Buffer.byteLength(body)}`,
    'connection: close',
  ];
  socket.end(`${head.join('\r\n')}\r\n\r\n${body}`);
}
