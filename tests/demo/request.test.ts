import { once } from 'node:events';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, expect, test } from 'vitest';
import { patientFetch } from './request.ts';

let server: Server;
afterEach(() => server.close());

/** A server that answers with these statuses in turn, the last for ever; it notes the bodies it gets. */
async function serverOf(statuses: number[], retryAfter: string | undefined) {
  const bodies: string[] = [];
  server = createServer(async (request, response) => {
    let body = '';
    for await (const chunk of request) body += chunk;
    bodies.push(body);
    const status = statuses[Math.min(bodies.length, statuses.length) - 1];
    response.writeHead(status, retryAfter === undefined ? {} : { 'retry-after': retryAfter }).end('{}');
  }).listen(0, '127.0.0.1');
  await once(server, 'listening');
  const url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  const post = (signal = new AbortController().signal) => patientFetch(signal)(new Request(url, { method: 'POST', body: 'struts' }));
  return { bodies, post };
}

test('a service that asks for patience is asked again with the same body', async () => {
  const { bodies, post } = await serverOf([503, 429, 202], '0');
  expect((await post()).status).toBe(202);
  expect(bodies).toEqual(['struts', 'struts', 'struts']);
});

test('patience ends, and is not spent where none is asked for', async () => {
  const busy = await serverOf([503], '0');
  expect((await busy.post()).status).toBe(503);
  expect(busy.bodies).toHaveLength(6);
  server.close();
  const broken = await serverOf([503], undefined);
  expect((await broken.post()).status).toBe(503);
  expect(broken.bodies).toHaveLength(1);
});

test('waiting ends with the demo', async () => {
  const { post } = await serverOf([503], '60');
  const stopped = new AbortController();
  setTimeout(() => stopped.abort(new Error('Stopped.')), 100);
  // Told by the pause it interrupts, or, on a slow machine, by the request.
  await expect(post(stopped.signal)).rejects.toThrow(/abort|Stopped/);
});
