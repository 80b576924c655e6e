import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import type { TestProject } from 'vitest/node';
import { migrate, startEmbedded } from '../../prisma/index.ts';

/** One PostgreSQL a run: TEST_DATABASE_URL when it is set, else the embedded one. Every test file copies the migrated template. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const server = process.env.TEST_DATABASE_URL
    ? { databaseUrl: process.env.TEST_DATABASE_URL, stop: async () => {} }
    : await startTemporary();
  const template = `strutwright_test_${process.pid}`;
  await administer(server.databaseUrl, `create database ${template}`);
  await migrate(databaseOf(server.databaseUrl, template));
  project.provide('databaseServer', { databaseUrl: server.databaseUrl, template });
  return async () => {
    await administer(server.databaseUrl, `drop database if exists ${template} with (force)`);
    await server.stop();
  };
}

async function startTemporary() {
  const dataDir = await mkdtemp(join(tmpdir(), 'strutwright-test-'));
  const { databaseUrl, stop } = await startEmbedded({ dataDir, durable: false });
  return { databaseUrl, stop: () => stop().then(() => rm(dataDir, { recursive: true, force: true })) };
}

/** The same server, another database. */
export function databaseOf(serverUrl: string, name: string): string {
  const url = new URL(serverUrl);
  url.pathname = `/${name}`;
  return url.href;
}

/** Runs one statement on the server itself. */
export async function administer(serverUrl: string, statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: serverUrl });
  await client.connect();
  await client.query(statement).finally(() => client.end());
}

declare module 'vitest' {
  interface ProvidedContext {
    databaseServer: { databaseUrl: string; template: string };
  }
}
