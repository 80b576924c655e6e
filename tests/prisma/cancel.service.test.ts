import { describe, expect, test } from 'vitest';
import type { Submission } from '../../prisma/index.ts';
import { recordsOfThisFile } from './open.ts';
import { evaluated, newTeam, sampleResult, sampleSubmission } from './samples.ts';

const here = recordsOfThisFile();
let nextDiameter = 100;
const fresh = () => sampleSubmission(nextDiameter++);

/** Another evaluation of the same computation: the same numbers under another label. */
const sibling = (submission: Submission): Submission => ({
  ...submission,
  input: { ...submission.input, material: { ...submission.input.material, revision: 99 } },
});

describe('cancelling', () => {
  test('a queued evaluation takes its computation along: nobody can claim it', async () => {
    const { evaluations, computations } = here.records;
    const team = await newTeam(here.records);
    const { evaluation } = await evaluations.submit(team, fresh());
    const cancelled = await evaluations.cancel(team, evaluation.id);
    expect(cancelled).toMatchObject({ evaluation: { status: 'cancelled' }, cancelComputation: evaluation.computationId });
    expect(cancelled?.evaluation.finishedAt).toBeInstanceOf(Date);
    expect(await computations.claim(evaluation.computationId, 'a')).toBeNull();
    expect(await computations.outstanding(team)).toBe(0);
  });

  test('a running computation is asked to stop, and is cancelled once it has stopped', async () => {
    const { evaluations, computations } = here.records;
    const team = await newTeam(here.records);
    const { evaluation } = await evaluations.submit(team, fresh());
    const { computationId } = evaluation;
    await computations.claim(computationId, 'a');
    expect(await computations.isCancelRequested(computationId)).toBe(false);
    await evaluations.cancel(team, evaluation.id);
    expect(await computations.isCancelRequested(computationId)).toBe(true);
    expect(await computations.progress(computationId, { stage: 'mass', progressPct: 50 })).toEqual({ cancelRequested: true });
    expect(await computations.heartbeat([computationId])).toEqual([computationId]);
    expect(await computations.outstanding(team)).toBe(1);
    expect(await computations.cancelled(computationId)).toBe('cancelled');
    expect(await computations.outstanding(team)).toBe(0);
    expect(await evaluations.get(team, evaluation.id)).toMatchObject({ status: 'cancelled', result: null });
  });

  test('a computation that others wait for goes on, and is theirs when it is done', async () => {
    const { evaluations, computations } = here.records;
    const team = await newTeam(here.records);
    const submission = fresh();
    const first = (await evaluations.submit(team, submission)).evaluation;
    const second = (await evaluations.submit(team, sibling(submission))).evaluation;
    expect((await evaluations.cancel(team, first.id))?.cancelComputation).toBeNull();
    await computations.claim(first.computationId, 'a');
    await computations.finish(first.computationId, { result: sampleResult(), files: [] });
    expect(await evaluations.get(team, first.id)).toMatchObject({ status: 'cancelled', result: null, verdict: null });
    expect(await evaluations.get(team, second.id)).toMatchObject({ status: 'done', verdict: 'pass' });
  });

  test('of two that are cancelled at once, exactly the last takes the computation along', async () => {
    const { evaluations } = here.records;
    const team = await newTeam(here.records);
    for (let round = 0; round < 20; round++) {
      const submission = fresh();
      const ids = [await evaluations.submit(team, submission), await evaluations.submit(team, sibling(submission))];
      const answers = await Promise.all(ids.map(({ evaluation }) => evaluations.cancel(team, evaluation.id)));
      expect(answers.filter((answer) => answer?.cancelComputation !== null)).toHaveLength(1);
    }
  });

  test('a finished evaluation stays as it is', async () => {
    const { evaluations } = here.records;
    const team = await newTeam(here.records);
    const id = await evaluated(here.records, team, fresh());
    expect(await evaluations.cancel(team, id)).toMatchObject({ evaluation: { status: 'done' }, cancelComputation: null });
  });

  test('what the worker finishes although it was asked to stop is kept for the next who asks', async () => {
    const { evaluations, computations } = here.records;
    const team = await newTeam(here.records);
    const submission = fresh();
    const { evaluation } = await evaluations.submit(team, submission);
    await computations.claim(evaluation.computationId, 'a');
    await evaluations.cancel(team, evaluation.id);
    await computations.finish(evaluation.computationId, { result: sampleResult(), files: [] });
    expect(await evaluations.get(team, evaluation.id)).toMatchObject({ status: 'cancelled', result: null });
    const again = await evaluations.submit(team, submission);
    expect(again).toMatchObject({ evaluation: { id: evaluation.id, status: 'done', verdict: 'pass' }, dispatch: null });
  });
});

describe('submitting again what was cancelled', () => {
  test('opens the same evaluation and queues its computation', async () => {
    const { evaluations, computations } = here.records;
    const team = await newTeam(here.records);
    const submission = fresh();
    const { evaluation } = await evaluations.submit(team, submission);
    await evaluations.cancel(team, evaluation.id);
    const again = await evaluations.submit(team, submission);
    expect(again).toMatchObject({
      evaluation: { id: evaluation.id, status: 'queued', finishedAt: null },
      dispatch: evaluation.computationId,
    });
    expect((await computations.claim(evaluation.computationId, 'a'))?.attempts).toBe(1);
  });

  test('while it is still running takes the request to stop back; a run that stopped nevertheless is queued again', async () => {
    const { evaluations, computations } = here.records;
    const team = await newTeam(here.records);
    const submission = fresh();
    const { evaluation } = await evaluations.submit(team, submission);
    await computations.claim(evaluation.computationId, 'a');
    await evaluations.cancel(team, evaluation.id);
    expect((await evaluations.submit(team, submission)).evaluation.status).toBe('running');
    expect(await computations.isCancelRequested(evaluation.computationId)).toBe(false);
    expect(await computations.cancelled(evaluation.computationId)).toBe('queued');
    expect((await evaluations.get(team, evaluation.id))?.status).toBe('queued');
    expect((await computations.claim(evaluation.computationId, 'b'))?.attempts).toBe(1);
  });
});

test('a run whose worker was killed after it was asked to stop is cancelled by the next claim', async () => {
  const { evaluations, computations } = here.records;
  const team = await newTeam(here.records);
  const { evaluation } = await evaluations.submit(team, fresh());
  await computations.claim(evaluation.computationId, 'killed');
  await evaluations.cancel(team, evaluation.id);
  expect(await computations.claim(evaluation.computationId, 'b')).toBeNull();
  expect(await computations.outstanding(team)).toBe(0);
});
