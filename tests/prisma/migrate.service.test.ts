import pg from 'pg';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { migrate } from '../../prisma/index.ts';
import { readMigrations } from '../../prisma/migrate.ts';
import { emptyDatabase, type TestDatabase } from '../support/database.ts';
import { difference, historyDiagnosis, schemaText } from './schema-engine.ts';

let database: TestDatabase;
let client: pg.Client;
beforeEach(async () => {
  database = await emptyDatabase();
  client = new pg.Client({ connectionString: database.databaseUrl });
  await client.connect();
});
afterEach(async () => {
  await client.end();
  await database.drop();
});

const names = readMigrations().map(({ name }) => name);

test('five processes that migrate at once apply every migration once, and later ones none', async () => {
  const applied = await Promise.all(Array.from({ length: 5 }, () => migrate(database.databaseUrl)));
  expect(applied.flat()).toEqual(names);
  expect(await migrate(database.databaseUrl)).toEqual([]);
  const { rows } = await client.query('select migration_name, checksum, finished_at, applied_steps_count from _prisma_migrations');
  expect(rows.map((row) => [row.migration_name, row.checksum])).toEqual(readMigrations().map(({ name, checksum }) => [name, checksum]));
  expect(rows.every((row) => row.finished_at instanceof Date && row.applied_steps_count === 1)).toBe(true);
});

test('a migration that was changed after it was applied is refused by name', async () => {
  await migrate(database.databaseUrl);
  await client.query(`update _prisma_migrations set checksum = repeat('0', 64)`);
  await expect(migrate(database.databaseUrl)).rejects.toThrow(`Migration ${names[0]} was changed`);
});

test('a migration that another tool left unfinished is refused by name', async () => {
  await migrate(database.databaseUrl);
  await client.query('update _prisma_migrations set finished_at = null');
  await expect(migrate(database.databaseUrl)).rejects.toThrow(`Migration ${names[0]} was begun`);
});

test('a migration that fails leaves nothing behind', async () => {
  await client.query('create schema app; create table app.team (id int)');
  await expect(migrate(database.databaseUrl)).rejects.toThrow('already exists');
  const { rows } = await client.query(`select count(*)::int as n from pg_tables where schemaname = 'app'`);
  expect(rows[0].n).toBe(1);
  expect((await client.query('select from _prisma_migrations')).rowCount).toBe(0);
});

test('the schema and the migrations say the same', async () => {
  await migrate(database.databaseUrl);
  expect(await difference(database.databaseUrl, schemaText)).toBeNull();
});

test('the official tool reads the notes of what was applied, and misses nothing', async () => {
  await migrate(database.databaseUrl);
  const upToDate = { hasMigrationsTable: true, history: null, editedMigrationNames: [], failedMigrationNames: [] };
  expect(await historyDiagnosis(database.databaseUrl, readMigrations())).toEqual(upToDate);
  await client.query(`update _prisma_migrations set checksum = repeat('0', 64)`);
  expect((await historyDiagnosis(database.databaseUrl, readMigrations())).editedMigrationNames).toEqual(names);
});

test.each([
  ['a column', '  lossless Boolean @default(true)\n\n  @@map("design")'],
  ['an index', '  @@index([name])\n  @@map("design")'],
])('%s that only the schema has is noticed', async (_, replacement) => {
  await migrate(database.databaseUrl);
  const changed = schemaText.replace('  @@map("design")', replacement);
  expect(await difference(database.databaseUrl, changed)).toContain('"app"."design"');
});
