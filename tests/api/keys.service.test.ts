import { mkdtemp, readdir, readFile, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { mintKey } from '../../api/api-key.ts';
import { firstKey, firstKeyFile } from '../../api/first-key.ts';
import { exampleParameterSet, exampleRequest } from '../../openapi/examples.ts';
import { finish } from './finished.ts';
import { openSite, type Person, type Site } from './site.ts';

let site: Site;
beforeAll(async () => {
  site = await openSite();
});
afterAll(() => site.close());

describe('API keys', () => {
  test('are shown once, work at once, and stop working when revoked', async () => {
    const admin = await site.person();
    const made = await site.call(admin, 'POST', '/v1/keys', { body: { name: 'coach' } });
    expect(made).toMatchObject({ status: 201, body: { name: 'coach', role: 'member', revokedAt: null } });
    const coach = { teamId: admin.teamId, key: made.body.key };
    expect((await site.call(coach, 'GET', '/v1/designs')).status).toBe(200);
    expect((await site.call(coach, 'GET', '/v1/keys')).status).toBe(403);

    const listed = await site.call(admin, 'GET', '/v1/keys');
    expect(listed.body.items).toHaveLength(2);
    expect(listed.text).not.toContain(made.body.key.slice(-43));
    expect(listed.text).not.toContain('hash');
    // A use is written down beside the answer, not before it.
    const uses = async () =>
      (await site.call(admin, 'GET', '/v1/keys')).body.items.map((each: { lastUsedAt: string | null }) => each.lastUsedAt);
    await expect.poll(uses).not.toContain(null);
    const revoked = await site.call(admin, 'DELETE', `/v1/keys/${made.body.id}`);
    expect(revoked).toMatchObject({ status: 200, body: { id: made.body.id, revokedAt: expect.any(String) } });
    expect((await site.call(coach, 'GET', '/v1/designs')).status).toBe(401);
    expect((await site.call(admin, 'DELETE', `/v1/keys/${made.body.id}`)).body.revokedAt).toBe(revoked.body.revokedAt);
  });

  test('the last admin key of a team cannot be revoked, one of two can', async () => {
    const admin = await site.person();
    const [own] = (await site.call(admin, 'GET', '/v1/keys')).body.items;
    await site.call(admin, 'POST', '/v1/keys', { body: { name: 'member' } });
    expect(await site.call(admin, 'DELETE', `/v1/keys/${own.id}`)).toMatchObject({ status: 409, body: { code: 'last-admin-key' } });
    const second = (await site.call(admin, 'POST', '/v1/keys', { body: { name: 'second', role: 'admin' } })).body;
    expect((await site.call(admin, 'DELETE', `/v1/keys/${own.id}`)).status).toBe(200);
    expect((await site.call({ ...admin, key: second.key }, 'GET', '/v1/keys')).status).toBe(200);
  });

  test('of another team cannot be seen or revoked', async () => {
    const [admin, stranger] = [await site.person(), await site.person()];
    const [own] = (await site.call(admin, 'GET', '/v1/keys')).body.items;
    expect((await site.call(stranger, 'DELETE', `/v1/keys/${own.id}`)).status).toBe(404);
    expect((await site.call(admin, 'GET', '/v1/keys')).body.items).toMatchObject([{ id: own.id, revokedAt: null }]);
    expect((await site.call(stranger, 'GET', '/v1/keys')).body.items).toHaveLength(1);
  });

  test('a new team comes with an admin key and sees nothing of the one that made it', async () => {
    const admin = await site.person();
    await site.call(admin, 'POST', '/v1/designs', { body: { name: 'ours' } });
    const { status, body } = await site.call(admin, 'POST', '/v1/teams', { body: { name: 'Upper Harbour' } });
    expect(status).toBe(201);
    const newcomer = { teamId: body.id, key: body.adminKey.key };
    expect((await site.call(newcomer, 'GET', '/v1/designs')).body.items).toEqual([]);
    expect((await site.call(newcomer, 'GET', '/v1/keys')).body.items).toMatchObject([{ id: body.adminKey.id, role: 'admin' }]);
  });
});

describe('team isolation', () => {
  test('whatever one team made, another is told 404, and nothing changes', async () => {
    const [owner, stranger] = [await site.person(), await site.person()];
    const make = async (url: string, body: object) => (await site.call(owner, 'POST', url, { body })).body;
    const design = await make('/v1/designs', { name: 'ours' });
    const version = await make(`/v1/designs/${design.id}/versions`, { parameterSet: exampleParameterSet });
    const evaluation = await make('/v1/evaluations', exampleRequest);
    await finish(site.records, owner.teamId, evaluation.id);
    const before = await site.rows();
    for (const [method, url, body] of [
      ['GET', `/v1/designs/${design.id}`],
      ['DELETE', `/v1/designs/${design.id}`],
      ['GET', `/v1/designs/${design.id}/versions`],
      ['GET', `/v1/designs/${design.id}/versions/1`],
      ['POST', `/v1/designs/${design.id}/versions`, { parameterSet: exampleParameterSet }],
      ['GET', `/v1/evaluations/${evaluation.id}`],
      ['DELETE', `/v1/evaluations/${evaluation.id}`],
      ['GET', `/v1/evaluations/${evaluation.id}/files`],
      ['GET', `/v1/evaluations/${evaluation.id}/files/graph.json`],
    ] as const) {
      expect((await site.call(stranger, method, url, { body })).status, `${method} ${url}`).toBe(404);
    }
    const { parameterSet: _, ...conditions } = exampleRequest;
    const foreign = await site.call(stranger, 'POST', '/v1/evaluations', { body: { ...conditions, versionId: version.id } });
    expect(foreign).toMatchObject({ status: 422, body: { errors: [{ pointer: '/versionId', value: version.id }] } });
    for (const list of ['/v1/designs', '/v1/evaluations', `/v1/evaluations?designId=${design.id}`]) {
      expect((await site.call(stranger, 'GET', list)).body.items).toEqual([]);
    }
    expect(await site.rows()).toEqual(before);
    expect((await site.call(owner, 'GET', `/v1/designs/${design.id}`)).body).toEqual(design);
    expect((await site.call(owner, 'GET', `/v1/evaluations/${evaluation.id}`)).body.status).toBe('done');
  });

  test('the same input of two teams is two evaluations', async () => {
    const teams = [await site.person(), await site.person()];
    const made = await Promise.all(teams.map((who) => site.call(who, 'POST', '/v1/evaluations', { body: exampleRequest })));
    expect(new Set(made.map((each) => each.body.id)).size).toBe(2);
  });
});

describe('the first key', () => {
  let dataDir: string;
  let fresh: Site;
  beforeAll(async () => {
    dataDir = await mkdtemp(join(tmpdir(), 'strutwright-key-'));
    fresh = await openSite();
  });
  afterAll(async () => {
    await fresh.close();
    await rm(dataDir, { recursive: true });
  });
  const works = async (key: string) => (await fresh.call({ teamId: '', key } as Person, 'GET', '/v1/keys')).status;

  test('is made once by whichever start comes first, and kept for its owner only, with nothing beside it', async () => {
    const starts = Array.from({ length: 5 }, () => firstKey({ keys: fresh.records.keys, dataDir, bootstrapApiKey: null }));
    const made = (await Promise.all(starts)).filter((key) => key !== null);
    expect(made).toHaveLength(1);
    expect(await readFile(firstKeyFile(dataDir), 'utf8')).toBe(made[0]);
    expect((await stat(firstKeyFile(dataDir))).mode & 0o777).toBe(0o600);
    expect(await readdir(dataDir)).toEqual(['first-key']);
    expect(await works(made[0])).toBe(200);
    expect(await firstKey({ keys: fresh.records.keys, dataDir, bootstrapApiKey: null })).toBeNull();
    expect(await readFile(firstKeyFile(dataDir), 'utf8')).toBe(made[0]);
  });

  test('may be given instead, any number of times, and is then written nowhere', async () => {
    const given = 'a-long-key-chosen-for-the-league';
    const other = await mkdtemp(join(tmpdir(), 'strutwright-key-'));
    for (let k = 0; k < 3; k++) expect(await firstKey({ keys: fresh.records.keys, dataDir: other, bootstrapApiKey: given })).toBeNull();
    expect(await works(given)).toBe(200);
    expect(await works(`${given}x`)).toBe(401);
    expect(await works(mintKey())).toBe(401);
    expect(await readdir(other)).toEqual([]);
    await rm(other, { recursive: true });
  });
});
