import { Agent, type IncomingMessage, type Server } from 'node:http';
import { setTimeout as pause } from 'node:timers/promises';
import supertest from 'supertest';

export interface Question {
  /** Default: GET. */
  method?: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE';
  url: string;
  headers?: Record<string, string>;
  /** Text and bytes go as they are; anything else goes as JSON, and says so. */
  body?: unknown;
  /** A body of unknown length, in pieces. */
  pieces?: readonly Buffer[];
  /** The address of this machine that it comes from. */
  from?: string;
}

export interface Answer {
  status: number;
  headers: Record<string, string | undefined>;
  /** Unpacked, where it came compressed. */
  bytes: Buffer;
  text: string;
  // biome-ignore lint/suspicious/noExplicitAny: what a body holds is checked against the contract, and then by the test
  body: any;
}

/**
 * One request over a real connection, with nothing added to it and nothing followed. `to`: a listening server, or its URL. A service that is
 * overloaded, as one may be that shares a machine with all other tests, is asked again when it says.
 */
export async function ask(to: Server | string, question: Question): Promise<Answer> {
  for (let patience = 5; ; patience--) {
    const answer = await askOnce(to, question);
    if (answer.body?.code !== 'overloaded' || patience === 0) return answer;
    await pause(1000 * Number(answer.headers['retry-after']));
  }
}

/** The same, for a test of overload itself. */
export async function askOnce(
  to: Server | string,
  { method = 'GET', url, headers = {}, body, pieces = [], from }: Question,
): Promise<Answer> {
  const asJson = body !== undefined && typeof body !== 'string' && !(body instanceof Uint8Array);
  const request = supertest(to)
    [method.toLowerCase() as 'get'](url)
    .unset('accept-encoding')
    .set({ ...(asJson && { 'content-type': 'application/json' }), ...headers })
    .serialize(asItIs)
    .buffer(true)
    .parse(allBytes);
  if (from) request.agent(new Agent({ localAddress: from }));
  for (const piece of pieces) request.write(piece);
  if (body !== undefined) request.send(Buffer.from(asJson ? JSON.stringify(body) : (body as string)));
  const answer = await request;
  const bytes = Buffer.isBuffer(answer.body) ? answer.body : Buffer.alloc(0);
  const text = bytes.toString();
  const parsed = /[/+]json/.test(answer.type) && text ? JSON.parse(text) : undefined;
  return { status: answer.status, headers: answer.headers, bytes, text, body: parsed };
}

/** The same patience for the typed client. */
export const patientFetch: typeof globalThis.fetch = async (input, init) => {
  for (let patience = 5; ; patience--) {
    const answer = await fetch(input instanceof Request ? input.clone() : input, init);
    if (answer.status !== 503 || patience === 0) return answer;
    const { code } = (await answer.clone().json()) as { code?: string };
    if (code !== 'overloaded') return answer;
    await pause(1000 * Number(answer.headers.get('retry-after')));
  }
};

const asItIs = (body: string) => body;

function allBytes(answer: unknown, done: (error: Error | null, bytes: Buffer) => void): void {
  const parts: Buffer[] = [];
  (answer as IncomingMessage).on('data', (part: Buffer) => parts.push(part)).on('end', () => done(null, Buffer.concat(parts)));
}
