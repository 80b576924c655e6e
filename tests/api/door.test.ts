import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { routes } from '../../openapi/index.ts';
import { type AppAlone, openAppAlone, refused } from './app-alone.ts';

let alone: AppAlone;
beforeAll(async () => {
  alone = await openAppAlone();
});
afterAll(() => alone.app.close());

const json = { 'content-type': 'application/json' };

describe('every refusal is a problem document', () => {
  test('404 for a path that is not there', async () => {
    await refused(alone, { url: '/v2/evaluations' }, 'no-such-route', 404);
  });

  test.each(Object.values(routes).map(({ url }) => url))('405 with Allow for another method: %s', async (template) => {
    const url = template.replace(':id', '019aab00-0000-7000-8000-000000000001').replace(/:\w+/, '1');
    const there = Object.values(routes)
      .filter((each) => each.url === template)
      .map((each) => each.method as string);
    const other = (['PUT', 'DELETE'] as const).find((method) => !there.includes(method))!;
    const { headers } = await refused(alone, { method: other, url, body: 'x' }, 'method-not-allowed', 405);
    const allow = String(headers.allow).split(', ');
    expect(allow.filter((method) => method !== 'HEAD').sort()).toEqual([...new Set(there)].sort());
  });

  test.each(['', 'Basic eDp5', 'Bearer ', 'Bearer sw_000000000000_wrong', `Bearer ${'k'.repeat(5000)}`])(
    '401 with a challenge, for %s',
    async (authorization) => {
      const { headers } = await refused(alone, { url: '/v1/designs', headers: { authorization } }, 'unauthorized', 401);
      expect(headers['www-authenticate']).toMatch(/^Bearer /);
    },
  );

  test('401 comes before anything is said about the body', async () => {
    await refused(alone, { method: 'POST', url: '/v1/evaluations', headers: json, body: 'no' }, 'unauthorized', 401);
  });

  test('403 for a member where an admin is needed', async () => {
    for (const [method, url] of [
      ['POST', '/v1/keys'],
      ['GET', '/v1/keys'],
      ['DELETE', '/v1/keys/019aab00-0000-7000-8000-000000000001'],
      ['POST', '/v1/teams'],
    ] as const) {
      await refused(alone, { method, url, headers: alone.member }, 'forbidden', 403);
    }
  });

  test('406 when no answer is acceptable, and never for what is', async () => {
    const get = (accept: string) => ({ url: '/v1/materials/tpu-soft', headers: { ...alone.member, accept } });
    await refused(alone, get('text/html'), 'not-acceptable', 406);
    await refused(alone, get('application/json;q=0, text/*'), 'not-acceptable', 406);
    for (const accept of ['*/*', 'application/*', 'application/json', 'text/html, application/json;q=0.1', 'text/html,*/*;q=0.8']) {
      expect((await alone.ask(get(accept))).status, accept).toBe(200);
    }
  });

  test.each([
    ['a form', { 'content-type': 'application/x-www-form-urlencoded' }],
    ['text', { 'content-type': 'text/plain' }],
    ['no media type', { 'content-type': '' }],
    ['a compressed body', { ...json, 'content-encoding': 'gzip' }],
  ])('415 for %s', async (_, headers) => {
    const request = { method: 'POST', url: '/v1/designs', headers: { ...alone.member, ...headers }, body: '{"name":"ball"}' } as const;
    await refused(alone, request, 'unsupported-media-type', 415);
  });

  test('400 for malformed JSON, saying where', async () => {
    const request = { method: 'POST', url: '/v1/designs', headers: { ...alone.member, ...json }, body: '{"name": ball}' } as const;
    const { problem: told } = await refused(alone, request, 'malformed-body', 400);
    expect(told.detail).toContain('ball');
  });

  test.each([
    ['/v1/evaluations/7', 'invalid-path', 400, '/id'],
    ['/v1/materials/No%20Such', 'invalid-path', 400, '/key'],
    ['/v1/materials/%00', 'invalid-path', 400, '/key'],
    ['/v1/evaluations/%zz', 'invalid-path', 400, undefined],
    [`/v1/materials/${'k'.repeat(201)}`, 'uri-too-long', 414, undefined],
    ['/v1/designs?limit=0', 'invalid-query', 400, '/limit'],
    ['/v1/designs?limit=1e999', 'invalid-query', 400, '/limit'],
    ['/v1/designs?limit=2&limit=3', 'invalid-query', 400, '/limit'],
    ['/v1/designs?page=2', 'invalid-query', 400, '/page'],
    ['/v1/designs?__proto__=2', 'invalid-query', 400, undefined],
    ['/v1/materials?cursor=elsewhere', 'invalid-query', 400, '/cursor'],
    ['/v1/evaluations?massG.gte=heavy', 'invalid-query', 400, '/massG.gte'],
    ['/v1/evaluations?massG.about=3', 'invalid-query', 400, '/massG.about'],
    ['/v1/evaluations?sort=colour', 'invalid-query', 400, '/sort'],
    ['/v1/evaluations?status=lost', 'invalid-query', 400, '/status'],
  ] as const)('%s is %s', async (url, code, status, pointer) => {
    const { problem: told } = await refused(alone, { url, headers: alone.member }, code, status);
    if (pointer) expect(told.errors).toContainEqual(expect.objectContaining({ pointer, detail: expect.stringContaining('allowed:') }));
  });

  test('429 with Retry-After for too many requests of one key, not of another', async () => {
    const limited = await openAppAlone({ app: { limits: { requests: 3, failedLogIns: 100 } } });
    const get = (headers: object) => ({ url: '/v1/materials/tpu-soft', headers: { ...headers } });
    const statuses = [];
    for (let k = 0; k < 3; k++) statuses.push((await limited.ask(get(limited.member))).status);
    expect(statuses).toEqual([200, 200, 200]);
    const { headers } = await refused(limited, get(limited.member), 'too-many-requests', 429);
    expect(Number(headers['retry-after'])).toBeGreaterThan(0);
    await limited.app.close();
  });

  test('429 for too many failed log-ins of one address, while a valid key still works', async () => {
    const limited = await openAppAlone({ app: { limits: { requests: 100, failedLogIns: 2 } } });
    const guess = { url: '/v1/materials/tpu-soft', headers: { authorization: 'Bearer guess' } };
    for (let k = 0; k < 2; k++) await refused(limited, guess, 'unauthorized', 401);
    const { headers } = await refused(limited, guess, 'too-many-requests', 429);
    expect(Number(headers['retry-after'])).toBeGreaterThan(0);
    await refused(limited, { ...guess, from: '127.0.0.2' }, 'unauthorized', 401);
    expect((await limited.ask({ url: '/v1/materials/tpu-soft', headers: limited.member })).status).toBe(200);
    await limited.app.close();
  });

  test('nothing behind the door was reached by any of these', () => {
    expect(alone.reached).toEqual([]);
  });
});
