import { type IncomingMessage, request } from 'node:http';
import type { AddressInfo } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import type { FastifyInstance } from 'fastify';
import { evaluationEvent } from '../../openapi/index.ts';

export interface Heard {
  event: string;
  id?: string;
  data: ReturnType<typeof evaluationEvent.parse> | Record<string, never>;
}

export interface EventClient {
  status: number;
  headers: IncomingMessage['headers'];
  /** Everything that came, comments included. */
  text(): string;
  heard(): Heard[];
  /** Resolves when the stream has ended, however it did. */
  ended: Promise<void>;
  hangUp(): void;
}

/** A reader of server-sent events over a connection of its own. Where the service is overloaded it asks again, as `ask` does. */
export async function follow(app: FastifyInstance, path: string, headers: Record<string, string>): Promise<EventClient> {
  for (let patience = 5; ; patience--) {
    const client = await followOnce(app, path, headers);
    if (client.status !== 503 || patience === 0) return client;
    client.hangUp();
    await pause(1000 * Number(client.headers['retry-after']));
  }
}

function followOnce(app: FastifyInstance, path: string, headers: Record<string, string>): Promise<EventClient> {
  const { port } = app.server.address() as AddressInfo;
  return new Promise((resolve, reject) => {
    const asked = request({ host: '127.0.0.1', port, path, headers: { accept: 'text/event-stream', ...headers }, agent: false });
    asked.on('error', reject).on('response', (answer) => {
      let text = '';
      answer.setEncoding('utf8').on('data', (part: string) => {
        text += part;
      });
      const ended = new Promise<void>((done) => answer.on('close', done).on('error', () => done()));
      resolve({
        status: answer.statusCode!,
        headers: answer.headers,
        text: () => text,
        heard: () => parsed(text),
        ended,
        hangUp: () => asked.destroy(),
      });
    });
    asked.end();
  });
}

/** Complete events only, as a browser would hear them; their data is checked against the contract. */
function parsed(text: string): Heard[] {
  const blocks = text.split('\n\n').slice(0, -1);
  return blocks.flatMap((block) => {
    const fields = Object.fromEntries(block.split('\n').map((line) => line.split(/: (.*)/s) as [string, string]));
    if (!fields.event) return [];
    const data = JSON.parse(fields.data);
    return [{ event: fields.event, id: fields.id, data: fields.event === 'evaluation' ? evaluationEvent.parse(data) : data }];
  });
}
