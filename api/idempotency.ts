import { PROBLEMS, type Route, routes } from '../openapi/index.ts';
import type { Idempotency, IdempotentRequest, Records } from '../prisma/index.ts';
import type { Caller } from './handlers.ts';
import { refusalOf } from './problem-mapper.ts';
import { Refusal, type RefusalOptions } from './refusal.ts';
import { opened, sealed } from './seal.ts';

/** Visible ASCII, as an HTTP header can carry it unchanged. */
const KEY = /^[\x21-\x7e]{1,255}$/;

interface Request {
  params: unknown;
  body: unknown;
  caller: Caller | null;
  headers: Readonly<Record<string, string | string[] | undefined>>;
}
interface Reply {
  body: unknown;
  location?: string;
  afterwards?: () => Promise<void>;
}
type AnyHandler = (request: Request) => Promise<Reply>;
type AnyHandlers = Readonly<Record<string, AnyHandler>>;

/** An answer as it is kept: a success, or a refusal that is not the service's own fault. */
type Kept = { reply: Omit<Reply, 'afterwards'> } | { refusal: { code: Refusal['code'] } & RefusalOptions };

export interface IdempotentOptions<H> {
  records: Records;
  /** The handlers over these repositories. */
  handlersOver(records: Records): H;
}

/**
 * Gives every POST its Idempotency-Key: a request with a key that was answered within a day gets that answer again and changes nothing.
 * Refuses 400 for a key that is none, 409 while the first is at work, 422 for the key of another request. What went wrong on the service's
 * side is not kept. An answer that holds a secret is kept sealed with the API key of who asked, and is that key's own.
 */
export function idempotent<H extends object>({ records, handlersOver }: IdempotentOptions<H>): H {
  const plain = handlersOver(records) as AnyHandlers;
  const wrapped = Object.entries(plain).map(([id, handler]): [string, AnyHandler] => {
    const route: Route = routes[id as keyof typeof routes];
    if (route.method !== 'POST') return [id, handler];
    const bound = (inside: Records) => (handlersOver(inside) as AnyHandlers)[id];
    return [id, async (request) => once(request, { id, route, handler, bound, idempotency: records.idempotency })];
  });
  return Object.fromEntries(wrapped) as H;
}

interface Way {
  id: string;
  route: Route;
  handler: AnyHandler;
  /** The same handler inside a transaction. */
  bound(inside: Records): AnyHandler;
  idempotency: Idempotency;
}

async function once(request: Request, { id, route, handler, bound, idempotency }: Way): Promise<Reply> {
  const key = keyOf(request.headers['idempotency-key']);
  const { teamId, keyId } = request.caller!;
  if (key === null) {
    const { afterwards, ...reply } = await handler(request);
    await afterwards?.();
    return reply;
  }
  const secret = route.secret ? String(request.headers.authorization) : null;
  const write = (kept: Kept) => (secret === null ? JSON.stringify(kept) : sealed(JSON.stringify(kept), secret));
  const { params, body } = request;
  const asked: IdempotentRequest = { teamId, route: secret === null ? id : `${id} ${keyId}`, key, request: { params, body } };
  let later: Reply['afterwards'];
  const outcome = await idempotency.once(asked, {
    work: async (inside) => {
      const { afterwards, ...reply } = await bound(inside)(request);
      later = afterwards;
      return write({ reply });
    },
    refused: (error) => {
      const { code, detail, errors, headers } = refusalOf(error);
      return PROBLEMS[code].status >= 500 ? null : write({ refusal: { code, detail, errors, headers } });
    },
  });
  if (outcome.kind === 'running') throw new Refusal('idempotency-key-in-use', { headers: { 'retry-after': '1' } });
  if (outcome.kind === 'another-request') throw new Refusal('idempotency-key-reused');
  await later?.();
  return replayed(JSON.parse(secret === null ? outcome.answer : opened(outcome.answer, secret)));
}

function replayed(kept: Kept): Reply {
  if ('reply' in kept) return kept.reply;
  throw new Refusal(kept.refusal.code, kept.refusal);
}

function keyOf(header: string | string[] | undefined): string | null {
  if (header === undefined) return null;
  if (typeof header === 'string' && KEY.test(header)) return header;
  const detail = 'is not a key; allowed: 1 to 255 visible ASCII characters, without spaces';
  throw new Refusal('invalid-header', { errors: [{ pointer: '/Idempotency-Key', value: String(header).slice(0, 100), detail }] });
}
