import { randomBytes } from 'node:crypto';
import { inject } from 'vitest';
import { administer, databaseOf } from './database-server.ts';

export interface TestDatabase {
  databaseUrl: string;
  drop(): Promise<void>;
}

/** A database of its own with all migrations applied: a copy of the run's template. The caller drops it. */
export async function freshDatabase(): Promise<TestDatabase> {
  const { databaseUrl, template } = inject('databaseServer');
  return copyOf(databaseUrl, template);
}

/** A database of its own with nothing in it. */
export async function emptyDatabase(): Promise<TestDatabase> {
  return copyOf(inject('databaseServer').databaseUrl, 'template0');
}

async function copyOf(serverUrl: string, template: string): Promise<TestDatabase> {
  const name = `strutwright_test_${randomBytes(6).toString('hex')}`;
  await administer(serverUrl, `create database ${name} template ${template}`);
  return {
    databaseUrl: databaseOf(serverUrl, name),
    drop: () => administer(serverUrl, `drop database if exists ${name} with (force)`),
  };
}
