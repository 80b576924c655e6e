import { describe, expect, test } from 'vitest';
import { QueueUnavailable } from '../../api/queue.ts';
import { problem } from '../../openapi/index.ts';
import { openAppAlone, refused } from './app-alone.ts';

describe('failures of the service itself', () => {
  const post = (headers: object) => ({ method: 'POST', url: '/v1/designs', headers: { ...headers }, body: { name: 'ball' } }) as const;

  test('500 tells nothing of what happened, and the log tells everything under the same id', async () => {
    const failing = await openAppAlone({
      failure: Object.assign(new Error('password hush at /srv/secret.ts:1'), { code: '23505', detail: 'hush' }),
    });
    const { problem: told, headers } = await refused(failing, post(failing.member), 'internal', 500);
    expect(told).toMatchObject({ detail: told.title, errors: [] });
    expect(JSON.stringify([told, headers])).not.toMatch(/hush|secret|23505|\.ts|node_modules/);
    const logged = failing.logged.find((each) => each.reqId === told.requestId && each.level === 50);
    expect(JSON.stringify(logged)).toContain('password hush');
    await failing.app.close();
  });

  test('whatever is thrown, even nothing, is a 500 without internals', async () => {
    for (const failure of ['hush', { statusCode: 200, message: 'hush' }, null, Object.assign(new TypeError('hush'), { statusCode: 503 })]) {
      const failing = await openAppAlone({ failure: failure ?? new Error() });
      const answer = await failing.ask(post(failing.member));
      expect(answer.status).toBe(500);
      expect(problem.parse(answer.body).code).toBe('internal');
      expect(answer.text).not.toContain('hush');
      await failing.app.close();
    }
  });

  test.each([
    ['the database refuses connections', Object.assign(new Error('connect ECONNREFUSED 10.0.0.9:5432'), { code: 'ECONNREFUSED' })],
    ['the database shuts down', new Error('query failed', { cause: Object.assign(new Error('terminating'), { code: '57P01' }) })],
    ['the queue is away', new QueueUnavailable('no answer within 2000 ms')],
  ])('503 with Retry-After when %s, without saying where it is', async (_, failure) => {
    const failing = await openAppAlone({ failure });
    const { headers, problem: told } = await refused(failing, post(failing.member), 'unavailable', 503);
    expect(headers['retry-after']).toBe('5');
    expect(JSON.stringify(told)).not.toMatch(/10\.0\.0\.9|5432|terminating|2000/);
    await failing.app.close();
  });

  test('the log holds no key', async () => {
    const failing = await openAppAlone({});
    await failing.ask(post(failing.admin));
    expect(failing.logged.length).toBeGreaterThan(1);
    expect(JSON.stringify(failing.logged)).not.toContain(failing.admin.authorization.slice('Bearer '.length));
    await failing.app.close();
  });
});
