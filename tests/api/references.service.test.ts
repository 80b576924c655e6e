import { afterAll, beforeAll, expect, test } from 'vitest';
import { exampleReferenceBody, exampleRequest } from '../../openapi/examples.ts';
import { openSite, type Person, type Site } from './site.ts';

let site: Site;
let referee: Person;
beforeAll(async () => {
  site = await openSite();
  referee = await site.person();
});
afterAll(() => site.close());

const post = (body: object) => site.call(referee, 'POST', '/v1/references', { body });

test('a reference of own measurements has their targets, says that they are measured, and keeps the readings', async () => {
  const { measurements, targets } = exampleReferenceBody;
  const made = await post(exampleReferenceBody);
  expect(made).toMatchObject({ status: 201, body: { measurements, band: { kind: 'standard-deviations', factor: 2 } } });
  expect(made.body.targets).toEqual([
    ...targets,
    // 309, 312, 308, 311: mean 310, squares of the deviations 10, over n - 1 = 3.
    {
      quantity: 'massG',
      min: expect.closeTo(310 - 2 * Math.sqrt(10 / 3), 8),
      target: 310,
      max: expect.closeTo(310 + 2 * Math.sqrt(10 / 3), 8),
    },
    { quantity: 'reboundHeightMm', min: expect.any(Number), target: expect.closeTo(1131.66666667, 6), max: expect.any(Number) },
  ]);
  expect(made.body.status).toBe(
    'agreed with the coaches; measured by the team: massG n = 4, reboundHeightMm n = 3; bands: mean ± 2 standard deviations',
  );
  expect((await site.call(referee, 'GET', String(made.headers.location))).body).toEqual(made.body);
});

test('of an inflated original it carries estimates, labelled, alone and in the list', async () => {
  const body = {
    key: 'worked-example',
    targets: [
      { quantity: 'outsideDiameterMm', target: 220 },
      { quantity: 'massG', target: 430 },
    ],
    inflation: { pressureBar: 0.8 },
  };
  const { estimates } = (await post(body)).body;
  expect(estimates).toMatchObject({ stiffnessNPerMm: { label: 'estimate', formula: 'k = 2 pi R p' }, peakForceN: null });
  expect([Math.round(estimates.stiffnessNPerMm.value), estimates.contactTimeMs.value.toFixed(1)]).toEqual([55, '8.8']);
  const listed = (await site.call(referee, 'GET', '/v1/references?limit=200')).body.items;
  expect(listed.find((each: { key: string }) => each.key === body.key).estimates).toEqual(estimates);
  expect(listed.find((each: { key: string }) => each.key === 'handball-size-0').estimates).toBeUndefined();
});

test('its targets are those of an evaluation; readings and estimates are no part of the input', async () => {
  const reference = (await post({ ...exampleReferenceBody, key: 'measured-ball' })).body;
  const made = await site.call(referee, 'POST', '/v1/evaluations', { body: { ...exampleRequest, reference: 'measured-ball' } });
  expect(made.body.input.reference).toMatchObject({ key: 'measured-ball', targets: reference.targets, status: reference.status });
  for (const beside of ['measurements', 'band', 'estimates', 'builtIn']) expect(made.body.input.reference).not.toHaveProperty(beside);
});

test('what was read of a reference can be posted as another one; its estimates are computed anew', async () => {
  const { revision: _, builtIn: __, ...read } = (await site.call(referee, 'GET', '/v1/references/handball-size-2')).body;
  const { body } = await post({ ...read, key: 'pumped-up', inflation: { pressureBar: 2 * read.inflation.pressureBar } });
  expect(body.estimates.stiffnessNPerMm.value).toBeCloseTo(2 * read.estimates.stiffnessNPerMm.value, 10);
});

test('a measured reference that was read back is posted unchanged: it says the same again', async () => {
  const { revision: _, builtIn: __, ...read } = (await post({ ...exampleReferenceBody, key: 'read-back' })).body;
  const again = await post(read);
  expect(again).toMatchObject({ status: 201, body: { ...read, revision: 2 } });
  const [first] = read.measurements;
  const other = read.targets.map((each: { quantity: string }) => (each.quantity === first.quantity ? { ...each, max: 1000 } : each));
  expect((await post({ ...read, targets: other })).status).toBe(422);
});

test('targets alone are stored as they were posted, and say nothing of measurements', async () => {
  const { body } = await post({ key: 'by-hand', targets: [{ quantity: 'massG', max: 320 }], status: 'agreed' });
  expect(body).toMatchObject({ targets: [{ quantity: 'massG', max: 320 }], status: 'agreed' });
  for (const field of ['measurements', 'band', 'estimates']) expect(body).not.toHaveProperty(field);
});
