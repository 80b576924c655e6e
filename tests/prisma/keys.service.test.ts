import { once } from 'node:events';
import { type AddressInfo, createServer, type Socket } from 'node:net';
import { expect, test } from 'vitest';
import { openRecords } from '../../prisma/index.ts';
import { emptyDatabase, freshDatabase } from '../support/database.ts';
import { recordsOfThisFile } from './open.ts';
import { evaluated, newKey, newTeam, sampleSubmission } from './samples.ts';

const here = recordsOfThisFile();

test('a key is found by its prefix until it is revoked, and only its own team can do that', async () => {
  const { keys } = here.records;
  const [team, other] = [await newTeam(here.records), await newTeam(here.records)];
  const key = await keys.create(team, newKey('prefix-one'));
  const twin = await keys.create(other, newKey('prefix-two'));
  expect(new Set(await keys.withPrefix('prefix'))).toEqual(new Set([key, twin]));
  expect(await keys.revoke(other, key.id)).toBeNull();
  const revoked = await keys.revoke(team, key.id);
  expect(revoked?.revokedAt).toBeInstanceOf(Date);
  expect(await keys.revoke(team, key.id)).toEqual(revoked);
  expect(await keys.withPrefix('prefix')).toEqual([twin]);
  expect(await keys.list(team)).toEqual([revoked]);
});

test('of admin keys that are revoked all at once, one stays', async () => {
  const { keys } = here.records;
  const team = await newTeam(here.records);
  const made = await Promise.all([1, 2, 3, 4].map((k) => keys.create(team, { ...newKey(`admin-${k}`), role: 'admin' })));
  const revoked = await Promise.allSettled(made.map(({ id }) => keys.revoke(team, id)));
  expect(revoked.filter(({ status }) => status === 'fulfilled')).toHaveLength(3);
  const [{ reason }] = revoked.filter((each) => each.status === 'rejected');
  expect(reason).toMatchObject({ name: 'RecordFault', code: 'last-admin-key' });
  const left = (await keys.list(team)).filter(({ revokedAt }) => revokedAt === null);
  expect(left.map(({ id }) => id)).toEqual([reason.value]);
});

test('the use of a key is noted, not on every request', async () => {
  const { keys } = here.records;
  const team = await newTeam(here.records);
  const { id } = await keys.create(team, newKey('touched'));
  await keys.touch(id);
  const [once] = await keys.list(team);
  expect(once.lastUsedAt).toBeInstanceOf(Date);
  await new Promise((resolve) => setTimeout(resolve, 5));
  await keys.touch(id);
  expect(await keys.list(team)).toEqual([once]);
});

test('ten processes that start at once make one first key and one team', async () => {
  const { databaseUrl, drop } = await freshDatabase();
  const records = openRecords({ databaseUrl });
  const first = (text: string) => ({ teamName: 'Harbour Schools League', key: newKey(text), unless: 'any-key' as const });
  const made = await Promise.all(Array.from({ length: 10 }, (_, i) => records.keys.bootstrap(first(`first-${i}`))));
  expect(made.filter(Boolean)).toHaveLength(1);
  const [{ teamId }] = await records.keys.withPrefix('first-');
  expect(await records.keys.list(teamId)).toHaveLength(1);
  // A key that is set from outside is added to the same team, once.
  const set = { ...first('from-outside'), unless: 'same-key' as const };
  expect([await records.keys.bootstrap(set), await records.keys.bootstrap(set)]).toEqual([true, false]);
  expect(await records.keys.list(teamId)).toHaveLength(2);
  await records.close();
  await drop();
});

test('an evaluation and its files are another team’s as little as what does not exist', async () => {
  const { evaluations, files } = here.records;
  const [team, other] = [await newTeam(here.records), await newTeam(here.records)];
  const id = await evaluated(here.records, team, sampleSubmission(160));
  expect(await files.list(team, id)).toEqual([]);
  expect(await evaluations.get(other, id)).toBeNull();
  expect(await evaluations.cancel(other, id)).toBeNull();
  expect(await files.list(other, id)).toBeNull();
  expect(await files.get(other, id, 'graph.json')).toBeNull();
});

test('a server that takes connections and never answers is given up on', async () => {
  const sockets: Socket[] = [];
  const silent = createServer((socket) => sockets.push(socket)).listen(0, '127.0.0.1');
  await once(silent, 'listening');
  const { port } = silent.address() as AddressInfo;
  const records = openRecords({ databaseUrl: `postgresql://nobody@127.0.0.1:${port}/none`, connectWithinMs: 200 });
  const began = performance.now();
  await expect(records.ready()).rejects.toThrow(/timeout/);
  await expect(records.teams.create({ name: 'nobody' })).rejects.toThrow();
  // Two waits of 200 ms; ten times that for a busy machine, and far below the system's own patience of minutes.
  expect(performance.now() - began).toBeLessThan(4000);
  await records.close();
  for (const socket of sockets) socket.destroy();
  silent.close();
});

test('records are ready once the database is migrated, and say what is missing before', async () => {
  await here.records.ready();
  const { databaseUrl, drop } = await emptyDatabase();
  const records = openRecords({ databaseUrl });
  await expect(records.ready()).rejects.toThrow('_prisma_migrations');
  await records.close();
  await drop();
});
