import { readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type AppAlone, openAppAlone } from './app-alone.ts';

let alone: AppAlone;
beforeAll(async () => {
  alone = await openAppAlone();
});
afterAll(() => alone.app.close());

const get = async (url: string) => {
  const answer = await alone.app.inject({ url });
  expect(answer.statusCode, url).toBe(200);
  return answer;
};

describe('the documentation', () => {
  test('/openapi.json is the committed document', async () => {
    expect((await get('/openapi.json')).json()).toEqual(JSON.parse(readFileSync('openapi/openapi.json', 'utf8')));
  });

  test('comes compressed where that is asked for, under the same ETag', async () => {
    const plain = await get('/openapi.json');
    const packed = await alone.app.inject({ url: '/openapi.json', headers: { 'accept-encoding': 'gzip' } });
    expect(packed.headers).toMatchObject({ 'content-encoding': 'gzip', vary: 'accept-encoding', etag: plain.headers.etag });
    expect(packed.rawPayload.length).toBeLessThan(plain.rawPayload.length / 4);
    expect(gunzipSync(packed.rawPayload)).toEqual(plain.rawPayload);
    const unchanged = await alone.app.inject({
      url: '/openapi.json',
      headers: { 'accept-encoding': 'gzip', 'if-none-match': String(plain.headers.etag) },
    });
    expect([unchanged.statusCode, unchanged.body, unchanged.headers['content-encoding']]).toEqual([304, '', undefined]);
  });

  test('the pages need nothing from elsewhere, and may load nothing from there', async () => {
    for (const page of ['/docs', '/docs/']) {
      const { body, headers } = await get(page);
      const policy = String(headers['content-security-policy']);
      expect(policy).toMatch(/^default-src 'self';/);
      expect(policy).not.toMatch(/https?:|\*|unsafe/);
      const used = [...body.matchAll(/(?:src|href)="([^"]+)"/g)].map(([, url]) => new URL(url, `http://here${page}`));
      expect(used.length).toBeGreaterThan(3);
      for (const { host, pathname } of used) {
        expect(host).toBe('here');
        await get(pathname);
      }
    }
  });

  test('the pages show the same document', async () => {
    expect((await get('/docs/static/swagger-initializer.js')).body).toContain("resolveUrl('./json')");
    expect((await get('/docs/json')).json()).toEqual((await get('/openapi.json')).json());
  });
});
