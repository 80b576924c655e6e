import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type AppAlone, openAppAlone } from './app-alone.ts';

let alone: AppAlone;
beforeAll(async () => {
  alone = await openAppAlone();
});
afterAll(() => alone.app.close());

const get = async (url: string) => {
  const answer = await alone.ask({ url });
  expect(answer.status, url).toBe(200);
  return answer;
};

describe('the documentation', () => {
  test('/openapi.json is the committed document', async () => {
    expect((await get('/openapi.json')).body).toEqual(JSON.parse(readFileSync('openapi/openapi.json', 'utf8')));
  });

  test('comes compressed where that is asked for, under the same ETag', async () => {
    const plain = await get('/openapi.json');
    const gzip = { 'accept-encoding': 'gzip' };
    const packed = await alone.ask({ url: '/openapi.json', headers: gzip });
    expect(packed.headers).toMatchObject({ 'content-encoding': 'gzip', vary: 'accept-encoding', etag: plain.headers.etag });
    expect(packed.bytes).toEqual(plain.bytes);
    const unchanged = await alone.ask({ url: '/openapi.json', headers: { ...gzip, 'if-none-match': String(plain.headers.etag) } });
    expect([unchanged.status, unchanged.text, unchanged.headers['content-encoding']]).toEqual([304, '', undefined]);
  });

  test('the pages need nothing from elsewhere, and may load nothing from there', async () => {
    for (const page of ['/docs', '/docs/']) {
      const { text, headers } = await get(page);
      const policy = String(headers['content-security-policy']);
      expect(policy).toMatch(/^default-src 'self';/);
      expect(policy).not.toMatch(/https?:|\*|unsafe/);
      const used = [...text.matchAll(/(?:src|href)="([^"]+)"/g)].map(([, url]) => new URL(url, `http://here${page}`));
      expect(used.length).toBeGreaterThan(3);
      for (const { host, pathname } of used) {
        expect(host).toBe('here');
        await get(pathname);
      }
    }
  });

  test('the pages show the same document', async () => {
    expect((await get('/docs/static/swagger-initializer.js')).text).toContain("resolveUrl('./json')");
    expect((await get('/docs/json')).body).toEqual((await get('/openapi.json')).body);
  });
});
