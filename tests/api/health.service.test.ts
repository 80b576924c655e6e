import { type AddressInfo, connect, createServer, type Server, type Socket } from 'node:net';
import type { FastifyInstance } from 'fastify';
import { pino } from 'pino';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { buildApp } from '../../api/app.ts';
import { QueueUnavailable } from '../../api/queue.ts';
import { exampleRequest } from '../../openapi/examples.ts';
import { openRecords, type Records } from '../../prisma/index.ts';
import { ask } from './ask.ts';
import { call, openSite, type Person, type Site } from './site.ts';

let site: Site;
let referee: Person;
beforeAll(async () => {
  site = await openSite();
  referee = await site.person();
});
afterAll(() => site.close());

describe('health', () => {
  test('alive and ready while everything answers, for anybody', async () => {
    expect(await site.call(null, 'GET', '/livez')).toMatchObject({ status: 200, body: { status: 'ok' } });
    expect(await site.call(null, 'GET', '/readyz')).toMatchObject({ status: 200, body: { status: 'ok' } });
  });

  test('not ready when the queue is away or the process shuts down, and alive all the same', async () => {
    const away = await openSite({ dispatch: { ...site.dispatch, ready: async () => false } });
    expect(await away.call(null, 'GET', '/readyz')).toMatchObject({
      status: 503,
      body: { code: 'unavailable', detail: 'The queue does not answer' },
    });
    expect((await away.call(null, 'GET', '/livez')).status).toBe(200);
    await away.close();
    let closing = false;
    const ending = await openSite({ isClosing: () => closing });
    expect((await ending.call(null, 'GET', '/readyz')).status).toBe(200);
    closing = true;
    expect(await ending.call(null, 'GET', '/readyz')).toMatchObject({ status: 503, body: { detail: 'The process is shutting down' } });
    expect((await ending.call(null, 'GET', '/livez')).status).toBe(200);
    await ending.close();
  });
});

describe('metrics', () => {
  const metric = (text: string, name: string) => Number(new RegExp(`^${name.replace(/[{}]/g, '\\$&')} (.*)$`, 'm').exec(text)?.[1]);

  test('time requests by route template and count runs and jobs, without a word about any team', async () => {
    const made = await site.call(referee, 'POST', '/v1/evaluations', { body: exampleRequest });
    await site.call(referee, 'GET', `/v1/evaluations/${made.body.id}`);
    await ask(site.app.server, { url: '/nowhere/at-all' });
    const { text, headers } = await site.call(null, 'GET', '/metrics');
    expect(headers['content-type']).toMatch(/^text\/plain/);
    expect(metric(text, 'http_request_duration_seconds_count{method="GET",route="/v1/evaluations/:id",status="200"}')).toBe(1);
    expect(metric(text, 'http_request_duration_seconds_count{method="GET",route="none",status="404"}')).toBe(1);
    expect(metric(text, 'strutwright_computations{status="queued"}')).toBe(1);
    expect(metric(text, 'strutwright_queue_jobs{state="waiting"}')).toBe(1);
    expect(text).not.toMatch(new RegExp([made.body.id, referee.teamId, referee.key, 'Harbour', 'at-all'].join('|')));
  });

  test('still answer when the queue does not', async () => {
    const away = await openSite({ dispatch: { ...site.dispatch, counts: () => Promise.reject(new QueueUnavailable('away')) } });
    const { status, text } = await away.call(null, 'GET', '/metrics');
    expect(status).toBe(200);
    expect(text).toContain('strutwright_computations{');
    expect(text).not.toContain('strutwright_queue_jobs{');
    await away.close();
  });
});

describe('a database', () => {
  let wire: Wire;
  let records: Records;
  let app: FastifyInstance;
  beforeAll(async () => {
    wire = await openWire(site.databaseUrl);
    records = openRecords({ databaseUrl: wire.url });
    const options = { records, dispatch: site.dispatch, log: pino({ level: 'silent' }), redis: null, isClosing: () => false };
    app = await buildApp({ ...options, limits: { requests: 1000, failedLogIns: 1000 }, answerWithinMs: 500 });
    await app.listen({ host: '127.0.0.1', port: 0 });
  });
  afterAll(async () => {
    await app.close();
    await wire.cut();
    await records.close();
  });
  const list = () => call(app, { who: referee, method: 'GET', url: '/v1/designs' });
  const open = (url: string) => call(app, { who: null, method: 'GET', url });

  /** Everything that needs the database is 503 within seconds; the process itself is alive. */
  async function expectAway(): Promise<void> {
    for (let k = 0; k < 3; k++) {
      const began = performance.now();
      expect(await list()).toMatchObject({ status: 503, body: { code: 'unavailable' }, headers: { 'retry-after': '5' } });
      expect(performance.now() - began).toBeLessThan(3000);
    }
    expect((await open('/readyz')).body).toMatchObject({ status: 503, code: 'unavailable' });
    expect((await open('/livez')).status).toBe(200);
  }

  test('that goes away is 503 meanwhile, and everything works again after', async () => {
    expect((await list()).status).toBe(200);
    await wire.cut();
    await expectAway();
    await wire.mend();
    expect((await list()).status).toBe(200);
    expect((await open('/readyz')).status).toBe(200);
  });

  test('that stops answering without hanging up is 503 too', async () => {
    wire.stall();
    await expectAway();
    await wire.cut();
    await wire.mend();
    expect((await list()).status).toBe(200);
  });
});

interface Wire {
  /** The database, through this wire. */
  url: string;
  cut(): Promise<void>;
  /** Connections stay, nothing passes any more. */
  stall(): void;
  mend(): Promise<void>;
}

/** A TCP connection to a database that can be cut and mended. */
async function openWire(databaseUrl: string): Promise<Wire> {
  const { hostname, port } = new URL(databaseUrl);
  const sockets = new Set<Socket>();
  let server: Server;
  let stalled = false;
  const listen = async (at: number) => {
    server = createServer((near) => {
      const far = connect(Number(port || 5432), hostname);
      for (const each of [near, far]) sockets.add(each.on('error', () => undefined));
      if (!stalled) near.pipe(far).pipe(near);
    });
    stalled = false;
    await new Promise<void>((resolve) => server.listen(at, '127.0.0.1', resolve));
    return (server.address() as AddressInfo).port;
  };
  const own = await listen(0);
  const url = Object.assign(new URL(databaseUrl), { hostname: '127.0.0.1', port: String(own) }).href;
  return {
    url,
    stall: () => {
      stalled = true;
      for (const each of sockets) each.unpipe().pause();
    },
    mend: async () => void (await listen(own)),
    cut: () => {
      for (const each of sockets) each.destroy();
      sockets.clear();
      return new Promise((resolve) => server.close(() => resolve()));
    },
  };
}
