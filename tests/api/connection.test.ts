import { type AddressInfo, connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { problem } from '../../openapi/index.ts';
import { type AppAlone, openAppAlone, refused } from './app-alone.ts';

let alone: AppAlone;
let port: number;
beforeAll(async () => {
  alone = await openAppAlone();
  port = (alone.app.server.address() as AddressInfo).port;
});
afterAll(() => alone.app.close());

describe('over a real connection', () => {
  test.each([
    ['with its length told', { body: new Uint8Array(10_000_000) }],
    ['in pieces of unknown number', { pieces: Array<Buffer>(160).fill(Buffer.alloc(65_536)) }],
  ])('a body of 10 MB %s is refused with 413, and the answer arrives', async (_, sent) => {
    const headers = { ...alone.member, 'content-type': 'application/json' };
    await refused(alone, { method: 'POST', url: '/v1/designs', headers, ...sent }, 'body-too-large', 413);
  });

  test.each([
    ['is no HTTP', 'hello\r\n\r\n', 400, 'bad-request'],
    ['has headers without end', `GET /livez HTTP/1.1\r\nhost: a\r\nx: ${'x'.repeat(40_000)}\r\n\r\n`, 431, 'headers-too-large'],
  ])('what %s is answered with a problem document too', async (_, sent, status, code) => {
    const text = await raw(port, sent);
    expect(text).toMatch(new RegExp(`^HTTP/1.1 ${status} `));
    expect(problem.parse(JSON.parse(text.slice(text.indexOf('\r\n\r\n')))).code).toBe(code);
  });
});

function raw(port: number, text: string): Promise<string> {
  return new Promise((resolve, reject) => {
    let received = '';
    const socket = connect(port, '127.0.0.1', () => socket.write(text));
    socket.setEncoding('utf8').on('data', (part) => (received += part));
    socket.on('close', () => resolve(received)).on('error', reject);
  });
}
