import type { FastifyInstance } from 'fastify';
import { Client } from 'pg';
import { pino } from 'pino';
import { expect } from 'vitest';
import { keyRecord, mintKey } from '../../api/api-key.ts';
import { type AppOptions, buildApp } from '../../api/app.ts';
import { type Dispatch, openDispatch } from '../../api/queue.ts';
import { problem, problemsOf, type Route, routes } from '../../openapi/index.ts';
import { type KeyRole, openRecords, type Records } from '../../prisma/index.ts';
import { freshDatabase } from '../support/database.ts';
import { type Answer, ask, type Question } from './ask.ts';

export interface Person {
  teamId: string;
  key: string;
}

export type CallOptions = Pick<Question, 'body' | 'headers'>;

export interface Site {
  app: FastifyInstance;
  records: Records;
  dispatch: Dispatch;
  databaseUrl: string;
  /** A key of a new team, or of another's. */
  person(role?: KeyRole, teamId?: string): Promise<Person>;
  /**
   * One request; its answer is checked against the contract: a success by the route's schema, a refusal by the problems it may answer with.
   */
  call(who: Person | null, method: Route['method'], url: string, options?: CallOptions): Promise<Answer>;
  /** Rows of every table of ours, by its name; use of keys aside, what is refused leaves all of them as they are. */
  rows(): Promise<Record<string, number>>;
  close(): Promise<void>;
}

/** The real app, listening, on a database of its own, with the queue in it and no worker. */
export async function openSite(app: Partial<AppOptions> = {}, { historyWithinMs }: { historyWithinMs?: number } = {}): Promise<Site> {
  const { databaseUrl, drop } = await freshDatabase();
  const records = openRecords({ databaseUrl, historyWithinMs });
  const dispatch = await openDispatch({ databaseUrl, onError: () => undefined });
  const built = await buildApp({
    records,
    dispatch,
    log: pino({ level: 'silent' }),
    limits: { requests: 1_000_000, failedLogIns: 1_000_000 },
    redis: null,
    isClosing: () => false,
    ...app,
  });
  await built.listen({ host: '127.0.0.1', port: 0 });
  const client = new Client({ connectionString: databaseUrl });
  await client.connect();
  return {
    ...{ app: built, records, dispatch, databaseUrl },
    person: async (role = 'admin', teamId) => {
      const team = teamId ?? (await records.teams.create({ name: 'Harbour Schools League' })).id;
      const key = mintKey();
      await records.keys.create(team, keyRecord(key, { name: 'referee', role }));
      return { teamId: team, key };
    },
    call: (who, method, url, options) => call(built, { who, method, url, ...options }),
    rows: () => countRows(client),
    close: async () => {
      await built.close();
      await dispatch.close();
      await records.close();
      await client.end();
      await drop();
    },
  };
}

/** One request of somebody. */
export type Asked = CallOptions & { who: Person | null; method: Route['method']; url: string };

export async function call(app: FastifyInstance, { who, method, url, body, headers }: Asked): Promise<Answer> {
  const known = { ...(who && bearer(who)), ...(body !== undefined && { 'content-type': 'application/json' }) };
  const answer = await ask(app.server, { method, url, body, headers: { ...known, ...headers } });
  conforms(routeOf(method, url), answer.status, answer.body);
  return answer;
}

export const bearer = ({ key }: { key: string }): { authorization: string } => ({ authorization: `Bearer ${key}` });

function routeOf(method: string, url: string): Route {
  const path = url.split('?')[0].split('/');
  const matches = (template: string[]) =>
    template.length === path.length && template.every((part, k) => part.startsWith(':') || part === path[k]);
  return Object.values<Route>(routes).find((each) => each.method === method && matches(each.url.split('/')))!;
}

function conforms(route: Route, status: number, body: unknown): void {
  if (status === 304) return;
  if (status < 400) {
    const { schema } = route.responses[status] ?? expect.fail(`${route.url} answered ${status}, which the table does not give`);
    if (body !== undefined) expect(schema?.safeParse(body).error).toBeUndefined();
    return;
  }
  expect(problemsOf(route)).toContain(problem.parse(body).code);
}

async function countRows(client: Client): Promise<Record<string, number>> {
  const { rows } = await client.query(
    `select schemaname || '.' || relname as name from pg_stat_user_tables where schemaname in ('app', 'bullmq') order by 1`,
  );
  const counts: Record<string, number> = {};
  for (const { name } of rows) counts[name] = Number((await client.query(`select count(*) from ${name}`)).rows[0].count);
  return counts;
}
