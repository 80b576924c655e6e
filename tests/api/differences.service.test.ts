import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exampleParameterSet, exampleRequest } from '../../openapi/examples.ts';
import { finish, resultWith } from './finished.ts';
import { openSite, type Person, type Site } from './site.ts';

let site: Site;
let referee: Person;
let url: string;
const versions: { id: string; number: number }[] = [];
const { parameterSet: _, ...conditions } = exampleRequest;
const NOBODY = '019aab00-0000-7000-8000-000000000001';

beforeAll(async () => {
  site = await openSite();
  referee = await site.person();
  url = `/v1/designs/${(await site.call(referee, 'POST', '/v1/designs', { body: { name: 'ball' } })).body.id}/versions`;
  for (const strutDiameterMm of [4, 4.2]) {
    const layers = exampleParameterSet.layers.map((layer, k) => (k === 0 ? { ...layer, strutDiameterMm } : layer));
    versions.push((await site.call(referee, 'POST', url, { body: { parameterSet: { ...exampleParameterSet, layers } } })).body);
  }
});
afterAll(() => site.close());

async function evaluated(version: number, massG: number, more: object = {}): Promise<string> {
  const body = { ...conditions, ...more, versionId: versions[version - 1].id };
  const { id } = (await site.call(referee, 'POST', '/v1/evaluations', { body })).body;
  await finish(site.records, referee.teamId, id, resultWith({ massG }));
  return id;
}
const compare = async (left: number, right: number) => (await site.call(referee, 'GET', `${url}/${left}/difference?with=${right}`)).body;
const thicker = {
  path: 'layers.0.strutDiameterMm',
  left: 4,
  right: 4.2,
  change: expect.closeTo(0.2, 12),
  changePct: expect.closeTo(5, 10),
};

async function foreignVersion(): Promise<{ id: string }> {
  const stranger = await site.person();
  const design = (await site.call(stranger, 'POST', '/v1/designs', { body: { name: 'theirs' } })).body.id;
  const body = { parameterSet: exampleParameterSet };
  return (await site.call(stranger, 'POST', `/v1/designs/${design}/versions`, { body })).body;
}

describe('two versions', () => {
  test('differ in their parameters; results are null until both are evaluated under the same records', async () => {
    const bare = await compare(1, 2);
    expect(bare).toMatchObject({ left: { number: 1, evaluationId: null }, right: { number: 2, evaluationId: null }, results: null });
    expect(bare.parameters).toEqual({ differing: [thicker], equalCount: expect.any(Number) });
    expect(bare.parameters.equalCount).toBeGreaterThan(8);
    await evaluated(1, 300);
    await evaluated(2, 320, { reference: null });
    expect((await compare(1, 2)).results).toBeNull();
    const [left, right] = [
      await evaluated(1, 301, { buildVolume: 'large-polymer' }),
      await evaluated(2, 322, { buildVolume: 'large-polymer' }),
    ];
    const both = await compare(1, 2);
    expect(both).toMatchObject({ left: { evaluationId: left }, right: { evaluationId: right } });
    const mass = { path: 'massProperties.massG', left: 301, right: 322, change: 21, changePct: (100 * 21) / 301 };
    expect(both.results).toEqual({ differing: [mass], equalCount: expect.any(Number) });
    expect(both.results.equalCount).toBeGreaterThan(50);
    // The newest pair counts, also when one of the two was there before.
    const newer = await evaluated(2, 330);
    expect(await compare(1, 2)).toMatchObject({ right: { evaluationId: newer }, results: { differing: [{ left: 300, right: 330 }] } });
  });

  test('of two designs differ alike, by the id of the one on the right', async () => {
    const other = (await site.call(referee, 'POST', '/v1/designs', { body: { name: 'another ball' } })).body.id;
    const body = { parameterSet: { ...exampleParameterSet, carrier: { shape: 'sphere', outsideDiameterMm: 170 } } };
    const theirs = (await site.call(referee, 'POST', `/v1/designs/${other}/versions`, { body })).body;
    const across = (await site.call(referee, 'GET', `${url}/1/difference?with=${theirs.id}`)).body;
    expect(across).toMatchObject({ left: { number: 1 }, right: { versionId: theirs.id, designId: other, number: 1 }, results: null });
    expect(across.parameters.differing.map(({ path }: { path: string }) => path)).toContain('carrier.outsideDiameterMm');
    expect(across.left.designId).not.toBe(other);
    // By id or by number, it is the same version of this design.
    const byId = (await site.call(referee, 'GET', `${url}/1/difference?with=${versions[1].id}`)).body;
    expect(byId).toEqual(await compare(1, 2));
    const { id: foreign } = await foreignVersion();
    expect((await site.call(referee, 'GET', `${url}/1/difference?with=${foreign}`)).status).toBe(400);
  });

  test('a version does not differ from itself', async () => {
    expect(await compare(1, 1)).toMatchObject({ parameters: { differing: [] }, results: { differing: [] } });
  });

  test('that do not exist are told at their place', async () => {
    expect((await site.call(referee, 'GET', `${url}/9/difference?with=1`)).status).toBe(404);
    expect((await site.call(await site.person(), 'GET', `${url}/1/difference?with=2`)).status).toBe(404);
    for (const query of ['', '?with=9', '?with=x', '?with=0', `?with=${NOBODY}`]) {
      const { status, body } = await site.call(referee, 'GET', `${url}/1/difference${query}`);
      expect({ status, pointer: body.errors[0].pointer }, query).toEqual({ status: 400, pointer: '/with' });
      const allowed = query === '?with=0' ? 'a whole number, at least 1' : 'the id of a version of any design of the team';
      expect(body.errors[0].detail, query).toContain(allowed);
    }
  });
});

test('two evaluations differ in parameters, records and results; results are null until both are done', async () => {
  const left = await evaluated(1, 300);
  const body = {
    ...exampleRequest,
    parameterSet: { ...exampleParameterSet, carrier: { shape: 'sphere', outsideDiameterMm: 170 } },
    material: 'pa12',
  };
  const waiting = (await site.call(referee, 'POST', '/v1/evaluations', { body })).body.id;
  const between = async () => (await site.call(referee, 'GET', `/v1/evaluations/${left}/difference?with=${waiting}`)).body;
  expect(await between()).toMatchObject({ left: { status: 'done' }, right: { evaluationId: waiting, status: 'queued' }, results: null });
  await finish(site.records, referee.teamId, waiting, resultWith({ massG: 330 }));
  const { parameters, results } = await between();
  const paths = parameters.differing.map((each: { path: string }) => each.path);
  expect(paths).toEqual(expect.arrayContaining(['carrier.outsideDiameterMm', 'material.key', 'material.densityGCm3']));
  expect(paths.some((path: string) => /^(buildVolume|reference|tests)/.test(path))).toBe(false);
  expect(results.differing).toEqual([{ path: 'massProperties.massG', left: 300, right: 330, change: 30, changePct: 10 }]);
  const stranger = await site.person();
  expect((await site.call(stranger, 'GET', `/v1/evaluations/${left}/difference?with=${waiting}`)).status).toBe(404);
  const theirs = await site.call(referee, 'GET', `/v1/evaluations/${left}/difference?with=${NOBODY}`);
  expect(theirs).toMatchObject({ status: 400, body: { errors: [{ pointer: '/with', value: NOBODY }] } });
});
