import { createHash } from 'node:crypto';
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

const get = (headers: Record<string, string> = {}, of = id, name = 'graph.json') =>
  ask(site.app.server, { url: `/v1/evaluations/${of}/files/${name}`, headers: { ...bearer(referee), ...headers } });
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
