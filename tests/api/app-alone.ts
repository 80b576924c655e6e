import type { FastifyInstance } from 'fastify';
import { pino } from 'pino';
import { expect } from 'vitest';
import { keyRecord, mintKey } from '../../api/api-key.ts';
import { type AppOptions, buildApp } from '../../api/app.ts';
import { PROBLEM_MEDIA_TYPE, type ProblemCode, problem } from '../../openapi/index.ts';
import type { ApiKey, KeyRole, Records } from '../../prisma/index.ts';
import { type Answer, ask, type Question } from './ask.ts';

export interface AppAlone {
  app: FastifyInstance;
  ask(question: Question): Promise<Answer>;
  /** Authorization headers of an admin and of a member. */
  admin: { authorization: string };
  member: { authorization: string };
  /** Calls of repositories other than the keys, by name. */
  reached: string[];
  /** What was logged, one JSON object each. */
  logged: Record<string, unknown>[];
}

/**
 * The app, listening, in front of nothing: the keys answer, every other repository notes that it was reached and fails with `failure`. What is refused
 * at the door must reach none of them.
 */
export async function openAppAlone(options: { failure?: unknown; app?: Partial<AppOptions> } = {}): Promise<AppAlone> {
  const reached: string[] = [];
  const logged: Record<string, unknown>[] = [];
  const fail = (name: string) => async () => {
    reached.push(name);
    throw options.failure ?? new Error('this repository is not there');
  };
  const repository = (name: string) => new Proxy({}, { get: (_, method) => fail(`${name}.${String(method)}`) });
  const texts = { admin: mintKey(), member: mintKey() };
  const stored = (['admin', 'member'] as const).map((role) => storedKey(texts[role], role));
  const keys = { withPrefix: async (prefix: string) => stored.filter((each) => each.prefix === prefix), touch: async () => undefined };
  const records = new Proxy(
    {},
    { get: (_, name) => (name === 'keys' ? keys : name === 'ready' ? async () => undefined : repository(String(name))) },
  );
  const app = await buildApp({
    records: records as Records,
    dispatch: {
      dispatch: fail('dispatch'),
      hasten: fail('hasten'),
      ready: async () => true,
      counts: async () => ({ waiting: 0, active: 0, delayed: 0, failed: 0 }),
      close: async () => undefined,
    },
    log: pino({ level: 'trace' }, { write: (line: string) => void logged.push(JSON.parse(line)) }),
    limits: { requests: 1_000_000, failedLogIns: 1_000_000 },
    redis: null,
    isClosing: () => false,
    ...options.app,
  });
  await app.listen({ host: '127.0.0.1', port: 0 });
  const header = (role: 'admin' | 'member') => ({ authorization: `Bearer ${texts[role]}` });
  return { app, ask: (question) => ask(app.server, question), admin: header('admin'), member: header('member'), reached, logged };
}

function storedKey(text: string, role: KeyRole): ApiKey {
  const id = '019aab00-0000-7000-8000-00000000000a';
  return { ...keyRecord(text, { name: role, role }), id, teamId: id, createdAt: new Date(0), lastUsedAt: null, revokedAt: null };
}

/** The problem an answer holds, checked against the contract. */
export async function refused({ ask }: Pick<AppAlone, 'ask'>, question: Question, code: ProblemCode, status: number) {
  const answer = await ask(question);
  expect(answer).toMatchObject({ status, body: { status, type: `/problems/${code}`, code } });
  expect(answer.headers['content-type']).toBe(PROBLEM_MEDIA_TYPE);
  return { problem: problem.parse(answer.body), headers: answer.headers };
}
