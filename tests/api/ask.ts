import { Agent, type IncomingMessage, type Server } from 'node:http';
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

/** One request over a real connection, with nothing added to it and nothing followed. `to`: a listening server, or its URL. */
export async function ask(to: Server | string, { method = 'GET', url, headers = {}, body, pieces = [], from }: Question): Promise<Answer> {
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
  const parsed = /json/.test(answer.type) && text ? JSON.parse(text) : undefined;
  return { status: answer.status, headers: answer.headers, bytes, text, body: parsed };
}

const asItIs = (body: string) => body;

function allBytes(answer: unknown, done: (error: Error | null, bytes: Buffer) => void): void {
  const parts: Buffer[] = [];
  (answer as IncomingMessage).on('data', (part: Buffer) => parts.push(part)).on('end', () => done(null, Buffer.concat(parts)));
}
