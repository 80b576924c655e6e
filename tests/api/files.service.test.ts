import { createHash } from 'node:crypto';
import http, { type IncomingMessage } from 'node:http';
import type { AddressInfo } from 'node:net';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exampleRequest } from '../../openapi/examples.ts';
import { ask } from './ask.ts';
import { finish } from './finished.ts';
import { bearer, openSite, type Person, type Site } from './site.ts';

let site: Site;
let referee: Person;
let id: string;
const { parameterSet, ...conditions } = exampleRequest;

async function evaluated(name: string): Promise<string> {
  const design = (await site.call(referee, 'POST', '/v1/designs', { body: { name } })).body;
  const version = (await site.call(referee, 'POST', `/v1/designs/${design.id}/versions`, { body: { parameterSet } })).body;
  const made = await site.call(referee, 'POST', '/v1/evaluations', { body: { ...conditions, versionId: version.id } });
  if (made.body.status !== 'done') await finish(site.records, referee.teamId, made.body.id);
  return made.body.id;
}

beforeAll(async () => {
  site = await openSite();
  referee = await site.person();
  id = await evaluated('Größe 1, leicht!');
});
afterAll(() => site.close());

/** The bytes as they come over the connection, and not read as JSON, which a part is not. */
async function raw(headers: Record<string, string>) {
  const { port } = site.app.server.address() as AddressInfo;
  const url = `http://127.0.0.1:${port}/v1/evaluations/${id}/files/graph.json`;
  const answer = await new Promise<IncomingMessage>((done) => http.get(url, { headers: { ...bearer(referee), ...headers } }, done));
  const parts: Buffer[] = [];
  for await (const part of answer) parts.push(part);
  return { status: answer.statusCode, headers: answer.headers, bytes: Buffer.concat(parts) };
}
const get = (headers: Record<string, string> = {}, of = id, name = 'graph.json') =>
  ask(site.app.server, { url: `/v1/evaluations/${of}/files/${name}`, headers: { ...bearer(referee), ...headers } });
const digest = (bytes: Buffer) => `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:`;
const sha256 = (bytes: Buffer) => createHash('sha256').update(bytes).digest('hex');

describe('files of an evaluation', () => {
  test('are listed with size and sha256, and there are none before it is done', async () => {
    const content = (await get()).bytes;
    const { body } = await site.call(referee, 'GET', `/v1/evaluations/${id}/files`);
    expect(body).toEqual({
      items: [
        { name: 'graph.json', mediaType: 'application/json', size: content.length, sha256: sha256(content), createdAt: expect.any(String) },
      ],
      nextCursor: null,
    });
    const queued = (await site.call(referee, 'POST', '/v1/evaluations', { body: exampleRequest })).body;
    const other = { ...exampleRequest, parameterSet: { ...parameterSet, carrier: { shape: 'sphere', outsideDiameterMm: 177 } } };
    const waiting = (await site.call(referee, 'POST', '/v1/evaluations', { body: other })).body;
    expect(queued.status).toBe('done');
    expect((await site.call(referee, 'GET', `/v1/evaluations/${waiting.id}/files`)).body.items).toEqual([]);
    expect((await get({}, waiting.id)).status).toBe(404);
  });

  test('come plain or compressed, the same bytes, with their sha256 as ETag', async () => {
    const plain = await get();
    expect(plain.headers).toMatchObject({
      'content-type': 'application/json',
      etag: `"${sha256(plain.bytes)}"`,
      vary: 'accept-encoding',
    });
    expect(plain.headers['content-encoding']).toBeUndefined();
    expect(plain.body).toMatchObject({ unit: 'mm' });
    for (const accepted of ['gzip', 'br, gzip;q=0.5', '*']) {
      const packed = await get({ 'accept-encoding': accepted });
      expect(packed.headers['content-encoding'], accepted).toBe('gzip');
      expect(packed.bytes).toEqual(plain.bytes);
      expect(packed.headers['content-length']).not.toBe(plain.headers['content-length']);
      expect(packed.headers.etag).toBe(plain.headers.etag);
    }
    for (const accepted of ['br', 'gzip;q=0', 'identity'])
      expect((await get({ 'accept-encoding': accepted })).bytes, accepted).toEqual(plain.bytes);
  });

  test('come in parts that make up the whole, whatever coding is accepted', async () => {
    const { bytes, headers } = await get();
    expect(headers).toMatchObject({ 'accept-ranges': 'bytes', 'content-digest': digest(bytes), 'repr-digest': digest(bytes) });
    const parts: Buffer[] = [];
    const step = Math.ceil(bytes.length / 3);
    for (const first of [0, step, 2 * step]) {
      const last = Math.min(first + step, bytes.length) - 1;
      const part = await raw({ range: `bytes=${first}-${first + step - 1}`, 'accept-encoding': 'gzip', 'if-range': String(headers.etag) });
      expect(part.status).toBe(206);
      expect(part.headers).toMatchObject({
        'content-range': `bytes ${first}-${last}/${bytes.length}`,
        'content-length': String(last - first + 1),
        'content-type': 'application/json',
        etag: headers.etag,
        'content-digest': digest(part.bytes),
        'repr-digest': digest(bytes),
      });
      expect(part.headers['content-encoding']).toBeUndefined();
      parts.push(part.bytes);
    }
    expect(Buffer.concat(parts)).toEqual(bytes);
    expect((await raw({ range: 'bytes=-5' })).bytes).toEqual(bytes.subarray(-5));
  });

  test('come whole where the range is of another file, or none', async () => {
    const { bytes } = await get();
    const old = await get({ range: 'bytes=0-4', 'if-range': '"another"' });
    expect([old.status, old.bytes]).toEqual([200, bytes]);
    expect(old.headers['content-range']).toBeUndefined();
    for (const range of ['bytes=0-1,3-4', 'bytes=x-', 'words=0-1']) expect((await get({ range })).status, range).toBe(200);
  });

  test('have no bytes behind their end: 416 with their size', async () => {
    const { bytes } = await get();
    for (const range of [`bytes=${bytes.length}-`, 'bytes=-0']) {
      const refused = await get({ range });
      expect(refused).toMatchObject({ status: 416, body: { code: 'range-not-satisfiable' } });
      expect(refused.headers['content-range']).toBe(`bytes */${bytes.length}`);
    }
    expect((await raw({ range: `bytes=${bytes.length - 1}-` })).status).toBe(206);
  });

  test('asked for in part, but not changed, are 304 without a body', async () => {
    const { headers } = await get();
    const unchanged = await get({ range: 'bytes=0-4', 'if-none-match': String(headers.etag) });
    expect([unchanged.status, unchanged.bytes.length, unchanged.headers['content-range']]).toEqual([304, 0, undefined]);
  });

  test('that come compressed have the digest of what is sent', async () => {
    const packed = await raw({ 'accept-encoding': 'gzip' });
    expect(packed.headers['content-digest']).toBe(digest(packed.bytes));
    expect(gunzipSync(packed.bytes)).toEqual((await get()).bytes);
  });

  test('that did not change are 304 without a body', async () => {
    const { headers } = await get();
    for (const accepted of ['identity', 'gzip']) {
      const unchanged = await get({ 'if-none-match': String(headers.etag), 'accept-encoding': accepted });
      expect([unchanged.status, unchanged.bytes.length]).toEqual([304, 0]);
      expect(unchanged.headers).toMatchObject({ etag: headers.etag, vary: 'accept-encoding', 'cache-control': 'private, no-cache' });
      for (const name of ['content-encoding', 'content-length', 'content-type']) expect(unchanged.headers[name], name).toBeUndefined();
    }
  });

  test('are named after design and version where there is one', async () => {
    expect((await get()).headers['content-disposition']).toBe('attachment; filename="grosse-1-leicht-1.json"');
    const bare = await site.call(referee, 'POST', '/v1/evaluations', { body: exampleRequest });
    expect((await get({}, bare.body.id)).headers['content-disposition']).toBe(`attachment; filename="${bare.body.id}-graph.json"`);
    expect((await get({}, await evaluated('球'))).headers['content-disposition']).toMatch(/filename="[0-9a-f-]{36}-graph.json"/);
  });

  test('that do not exist are 404, names that cannot be are 400', async () => {
    expect((await get({}, id, 'other.json')).status).toBe(404);
    for (const name of ['..%2Fgraph.json', '.hidden', 'a%00b']) expect((await get({}, id, name)).status, name).toBe(400);
  });

  test('of another team are 404', async () => {
    const stranger = await site.person();
    const { status } = await get(bearer(stranger));
    expect(status).toBe(404);
  });
});
