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

test('records are ready once the database is migrated, and say what is missing before', async () => {
  await here.records.ready();
  const { databaseUrl, drop } = await emptyDatabase();
  const records = openRecords({ databaseUrl });
  await expect(records.ready()).rejects.toThrow('_prisma_migrations');
  await records.close();
  await drop();
});
