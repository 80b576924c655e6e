import { DelayedError, WaitingError } from 'bullmq';
import { describe, expect, it } from 'vitest';
import { ENGINE_VERSION } from '../../openapi/engine-version.ts';
import { JOB_ATTEMPTS } from '../../openapi/jobs.ts';
import type { Claim } from '../../prisma/index.ts';
import type { RunAnswer } from '../../worker/engine-pool.ts';
import { evaluateHandler, MOST_STARTS } from '../../worker/evaluate-job.ts';
import type { QueueJob } from '../../worker/queue.ts';

type Calls = [name: string, ...rest: unknown[]][];

const CLAIM = { computationId: 'c1', teamId: 't1', input: {}, inputHash: 'sha256:0', engineVersion: ENGINE_VERSION, attempts: 1 } as Claim;

/** Runs one job against records, engine and queue that only note what they are told. */
async function run(
  answer: RunAnswer,
  { claim = CLAIM as Claim | null, draining = false, asked = false, after = 'cancelled', age = 0 } = {},
) {
  const calls: Calls = [];
  const note =
    <T>(name: string, value: T) =>
    async (...args: unknown[]): Promise<T> => {
      calls.push([name, ...args]);
      return value;
    };
  const drain = new AbortController();
  const handler = evaluateHandler({
    computations: {
      claim: async () => claim,
      finish: note('finish', true),
      fail: note('fail', true),
      cancelled: note('cancelled', after as 'cancelled' | 'queued'),
      release: note('release', true),
      isCancelRequested: async () => asked,
    },
    pool: {
      start: () => {
        if (draining) drain.abort();
        return { answer: Promise.resolve(answer), at: () => null, cancel: () => calls.push(['cancel']) };
      },
      close: async () => undefined,
    },
    watch: { add: () => undefined, remove: () => undefined, stopAll: () => undefined, size: 0, close: async () => undefined },
    workerId: 'w1',
    draining: drain.signal,
    onEnd: () => undefined,
  });
  const job = {
    data: { computationId: 'c1' },
    timestamp: Date.now() - age,
    moveToWait: note('moveToWait', 0),
    moveToDelayed: note('moveToDelayed', undefined),
  };
  const thrown = await handler.handle(job as unknown as QueueJob, 'token').then(
    () => null,
    (error: Error) => error,
  );
  return { calls, thrown, names: calls.map(([name]) => name) };
}

const DONE = { kind: 'done', result: { massProperties: {} }, files: [{ name: 'graph.json' }] } as unknown as RunAnswer;
const CRASH: RunAnswer = { kind: 'crashed', code: 'engine-out-of-memory', reason: 'heap' };

describe('what becomes of an evaluation', () => {
  it('stores result and files', async () => {
    const { calls, thrown } = await run(DONE);
    expect(calls).toEqual([['finish', 'c1', { result: { massProperties: {} }, files: [{ name: 'graph.json' }] }]]);
    expect(thrown).toBeNull();
  });

  it('does nothing for a row that is finished or cancelled', async () => {
    expect(await run(DONE, { claim: null })).toMatchObject({ calls: [], thrown: null });
  });

  it("stores the engine's failure as it is, with the numbers so far, not to be retried", async () => {
    const error = { code: 'bottoms-out', message: 'The part bottoms out at 12 % of its diameter.' };
    const { kind: _, ...partial } = DONE as Extract<RunAnswer, { kind: 'done' }>;
    for (const so of [partial, null]) {
      const { calls, thrown } = await run({ kind: 'failed', error, partial: so });
      expect(calls).toEqual([['fail', 'c1', { error, retryable: false, partial: so }]]);
      expect(thrown).toBeNull();
    }
  });

  it('tells nothing of the inside when the engine throws', async () => {
    const { calls, thrown } = await run({ kind: 'defect', trace: 'TypeError at /srv/worker/engine/solid.js:12' });
    expect(JSON.stringify(calls)).toContain('engine-defect');
    expect(JSON.stringify(calls)).not.toContain('solid.js');
    expect(thrown).toBeNull();
  });

  it('retries after a lost thread, then fails with its code', async () => {
    for (let attempts = 1; attempts < JOB_ATTEMPTS; attempts++) {
      const { calls, thrown } = await run(CRASH, { claim: { ...CLAIM, attempts } });
      expect(thrown?.message).toContain('engine-out-of-memory');
      expect(calls).toEqual([]);
    }
    const last = await run(CRASH, { claim: { ...CLAIM, attempts: JOB_ATTEMPTS } });
    expect(last.thrown).toBeNull();
    expect(last.calls).toMatchObject([['fail', 'c1', { error: { code: 'engine-out-of-memory' }, retryable: true }]]);
  });

  it('gives up on what keeps losing its workers without running it again', async () => {
    const { calls } = await run(DONE, { claim: { ...CLAIM, attempts: MOST_STARTS + 1 } });
    expect(calls).toMatchObject([['fail', 'c1', { error: { code: 'worker-lost' }, retryable: true }]]);
  });

  it('stores a cancellation, and goes round again when someone wanted the run meanwhile', async () => {
    expect(await run({ kind: 'cancelled' })).toMatchObject({ names: ['cancelled'], thrown: null });
    const again = await run({ kind: 'cancelled' }, { after: 'queued' });
    expect(again.names).toEqual(['cancelled', 'moveToWait']);
    expect(again.thrown).toBeInstanceOf(WaitingError);
  });

  it('gives a run back uncharged when the worker drains', async () => {
    const { names, thrown } = await run({ kind: 'cancelled' }, { draining: true });
    expect(names).toEqual(['cancel', 'release', 'moveToWait']);
    expect(thrown).toBeInstanceOf(WaitingError);
  });

  it('keeps what a drain was too late for, and a cancellation asked for during it', async () => {
    expect((await run(DONE, { draining: true })).names).toEqual(['cancel', 'finish']);
    expect((await run({ kind: 'cancelled' }, { draining: true, asked: true })).names).toEqual(['cancel', 'cancelled']);
  });

  it('leaves a run of another engine version to a worker that has it, for a while', async () => {
    const claim = { ...CLAIM, engineVersion: '0.0.0' };
    const waiting = await run(DONE, { claim });
    expect(waiting.names).toEqual(['release', 'moveToDelayed']);
    expect(waiting.thrown).toBeInstanceOf(DelayedError);
    const gone = await run(DONE, { claim, age: 3_600_000 });
    expect(gone.calls).toMatchObject([['fail', 'c1', { error: { code: 'engine-version-gone' }, retryable: true }]]);
  });
});
