import { createHash, randomUUID } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import pg from 'pg';
import type { Sql } from './transaction.ts';

interface Migration {
  name: string;
  script: string;
  checksum: string;
}

/** The official tool takes the same lock, so the two never migrate at the same time. */
const LOCK = 72707369;

const TABLE = `create table if not exists public._prisma_migrations (
  id varchar(36) primary key, checksum varchar(64) not null, finished_at timestamptz, migration_name varchar(255) not null, logs text,
  rolled_back_at timestamptz, started_at timestamptz not null default now(), applied_steps_count integer not null default 0)`;

/** Migrations in order of their names. They stand beside this file; the compiled file reads them where they are, in the source tree. */
export function readMigrations(): Migration[] {
  const folder = [new URL('./migrations/', import.meta.url), new URL('../../prisma/migrations/', import.meta.url)].find(existsSync);
  if (!folder) throw new Error('prisma/migrations is missing: the service needs it beside its compiled code');
  const names = readdirSync(folder, { withFileTypes: true }).filter((entry) => entry.isDirectory() && /^\d{14}_\w+$/.test(entry.name));
  return names
    .map(({ name }) => name)
    .sort()
    .map((name) => {
      const script = readFileSync(new URL(`${name}/migration.sql`, folder), 'utf8');
      return { name, script, checksum: createHash('sha256').update(script).digest('hex') };
    });
}

/** Those of the migrations that the database does not have. Throws when one was changed after it was applied, or was left half applied. */
async function missing(sql: Sql, migrations: Migration[]): Promise<Migration[]> {
  const { rows } = await sql.query(
    'select migration_name, checksum, finished_at from public._prisma_migrations where rolled_back_at is null',
  );
  const applied = new Map(rows.map((row) => [row.migration_name, row]));
  for (const { name, checksum } of migrations) {
    const row = applied.get(name);
    if (row && row.finished_at === null) throw new Error(`Migration ${name} was begun by another tool and not finished; resolve it first`);
    if (row && row.checksum !== checksum) throw new Error(`Migration ${name} was changed after it was applied to this database`);
  }
  return migrations.filter(({ name }) => !applied.has(name));
}

/** Names of the migrations that the database does not have; rejects when it has none at all or does not answer. */
export async function missingMigrations(sql: Sql, migrations: Migration[]): Promise<string[]> {
  return (await missing(sql, migrations)).map(({ name }) => name);
}

/** One message, so that the script and the note of it are one transaction; name and checksum are digits, letters and underscores. */
const withNote = ({ name, script, checksum }: Migration) => `${script}
;insert into public._prisma_migrations (id, checksum, migration_name, finished_at, applied_steps_count)
values ('${randomUUID()}', '${checksum}', '${name}', now(), 1)`;

/**
 * Applies the migrations that the database does not have yet, in order of their names, and answers the names applied. Safe when several
 * processes start at once. Throws when an applied migration was changed since. The official tool reads the same notes.
 */
export async function migrate(databaseUrl: string): Promise<string[]> {
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  try {
    await client.query('select pg_advisory_lock($1)', [LOCK]);
    await client.query(TABLE);
    const due = await missing(client, readMigrations());
    for (const migration of due) await client.query(withNote(migration));
    return due.map(({ name }) => name);
  } finally {
    await client.end();
  }
}
