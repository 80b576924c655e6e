import { setTimeout as pause, setImmediate as turn } from 'node:timers/promises';
import fastify, { type FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { refuseUnderPressure } from '../../api/pressure.ts';
import { sendProblem } from '../../api/problem-mapper.ts';
import { askOnce } from './ask.ts';

const SAMPLE_MS = 200;

let app: FastifyInstance;
beforeAll(async () => {
  app = fastify();
  app.setErrorHandler(sendProblem);
  await refuseUnderPressure(app, { sampleMs: SAMPLE_MS });
  for (const url of ['/livez', '/metrics', '/work']) app.get(url, async () => 'ok');
  await app.listen({ host: '127.0.0.1', port: 0 });
});
afterAll(() => app.close());

/** Keeps the event loop busy for a while, in pieces. */
async function busy(totalMs: number, pieceMs: number): Promise<void> {
  for (const end = performance.now() + totalMs; performance.now() < end; await turn()) {
    for (const until = performance.now() + pieceMs; performance.now() < until; );
  }
}
const statusOf = async (url: string) => (await askOnce(app.server, { url })).status;

describe('under pressure', () => {
  test('work is refused with 503 while callbacks wait long; health and metrics still answer; then work is taken again', async () => {
    await busy(6 * SAMPLE_MS, 600);
    const refused = await askOnce(app.server, { url: '/work' });
    expect(refused.body).toMatchObject({ status: 503, code: 'overloaded' });
    expect(Number(refused.headers['retry-after'])).toBeGreaterThan(0);
    expect([await statusOf('/livez'), await statusOf('/metrics')]).toEqual([200, 200]);
    await pause(3 * SAMPLE_MS);
    expect(await statusOf('/work')).toBe(200);
  });

  test('a loop that is busy with short work refuses nothing', async () => {
    await busy(6 * SAMPLE_MS, 2);
    expect(await statusOf('/work')).toBe(200);
  });
});
