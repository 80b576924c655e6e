import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { exampleParameterSet } from '../../openapi/examples.ts';
import { type Route, routes } from '../../openapi/index.ts';
import { badBodies, targets } from './bad-bodies.ts';
import { openSite, type Person, type Site } from './site.ts';

let site: Site;
let referee: Person;
let designId: string;
beforeAll(async () => {
  site = await openSite();
  referee = await site.person();
  designId = (await site.call(referee, 'POST', '/v1/designs', { body: { name: 'ball' } })).body.id;
  await site.call(referee, 'POST', `/v1/designs/${designId}/versions`, { body: { parameterSet: exampleParameterSet } });
});
afterAll(() => site.close());

test('the bodies that are made bad are good to begin with', () => {
  const taking = Object.values<Route>(routes).filter((route) => route.body !== undefined);
  expect(taking.length).toBeGreaterThanOrEqual(8);
  for (const { url, body, bodyExample } of taking) expect(body!.safeParse(bodyExample).error, url).toBeUndefined();
});

test('a thousand generated bad bodies: each is refused within a second, and nothing is stored', async () => {
  const before = await site.rows();
  const refusedAt = new Map<string, number>();
  await fc.assert(
    fc.asyncProperty(badBodies, async ({ method, url, text, story }) => {
      const began = performance.now();
      const { status, body } = await site.call(referee, method, url.replace(':id', designId).replace(':number', '1'), { body: text });
      const took = performance.now() - began;
      expect({ status: status >= 400 && status < 500, body }, story).toMatchObject({ status: true, body: { status } });
      expect(took, story).toBeLessThan(1000);
      if (status === 422) expect(body.errors.length, story).toBeGreaterThan(0);
      const route = `${method} ${url}`;
      refusedAt.set(route, (refusedAt.get(route) ?? 0) + 1);
    }),
    { numRuns: 1000, seed: 20_261_124, endOnFailure: true },
  );
  expect(await site.rows()).toEqual(before);
  // Routes are drawn evenly: each has half its share at least.
  for (const { method, url } of targets) expect(refusedAt.get(`${method} ${url}`), url).toBeGreaterThan(500 / targets.length);
});
