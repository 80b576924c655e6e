import { gunzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { QUANTITIES } from '../../openapi/index.ts';
import { recordsOfThisFile } from './open.ts';
import { evaluated, newTeam, sampleInput, sampleResult, sampleSubmission } from './samples.ts';

const here = recordsOfThisFile();
let nextDiameter = 100;
const fresh = () => sampleSubmission(nextDiameter++);
const graph = { name: 'graph.json', mediaType: 'application/json', content: '{"unit":"mm"}' };

describe('the same input is computed once in a team', () => {
  test('fifty submissions at once make one computation and one evaluation', async () => {
    const { evaluations } = here.records;
    const team = await newTeam(here.records);
    const submission = fresh();
    const answers = await Promise.all(Array.from({ length: 50 }, () => evaluations.submit(team, submission)));
    expect(new Set(answers.map(({ evaluation }) => evaluation.computationId)).size).toBe(1);
    expect(new Set(answers.map(({ evaluation }) => evaluation.id)).size).toBe(1);
    const dispatched = new Set(answers.flatMap(({ dispatch }) => dispatch ?? []));
    expect([...dispatched]).toEqual([answers[0].evaluation.computationId]);
    expect(await here.records.computations.outstanding(team)).toBe(1);
  });

  test('other labels are another evaluation of the same computation, and each keeps its own', async () => {
    const { evaluations } = here.records;
    const team = await newTeam(here.records);
    const submission = fresh();
    const first = await evaluations.submit(team, submission);
    const { material } = submission.input;
    const relabelled = { ...submission, input: { ...submission.input, material: { ...material, revision: 2 } } };
    const second = await evaluations.submit(team, relabelled);
    expect(second.evaluation.computationId).toBe(first.evaluation.computationId);
    expect(second.evaluation.id).not.toBe(first.evaluation.id);
    expect((await evaluations.get(team, first.evaluation.id))?.input.material.revision).toBe(1);
    expect((await evaluations.get(team, second.evaluation.id))?.input.material.revision).toBe(2);
  });

  test('another team, another engine version: another computation', async () => {
    const { evaluations } = here.records;
    const [a, b] = [await newTeam(here.records), await newTeam(here.records)];
    const submission = fresh();
    const ids = [
      await evaluations.submit(a, submission),
      await evaluations.submit(b, submission),
      await evaluations.submit(a, { ...submission, engineVersion: '0.0.1' }),
    ].map(({ evaluation }) => evaluation.computationId);
    expect(new Set(ids).size).toBe(3);
  });

  test('an input that was computed is answered at once, with its numbers, and nothing is dispatched', async () => {
    const { evaluations, designs, versions } = here.records;
    const team = await newTeam(here.records);
    const submission = fresh();
    await evaluated(here.records, team, submission, sampleResult({ massG: 311 }));
    const design = await designs.create(team, { name: 'Ball', notes: '' });
    const content = { parameterSet: sampleInput(160).parameterSet, notes: '', basedOnId: null };
    const version = await versions.create(team, design.id, content);
    const again = await evaluations.submit(team, { ...submission, designId: design.id, versionId: version!.id });
    expect(again.dispatch).toBeNull();
    expect(again.evaluation).toMatchObject({ status: 'done', verdict: 'pass', version: 1, quantities: { massG: 311 } });
    expect(again.evaluation.finishedAt).toBeInstanceOf(Date);
  });
});

describe('finishing', () => {
  test('ten workers that finish at once store one result and one set of files', async () => {
    const { evaluations, computations, files } = here.records;
    const team = await newTeam(here.records);
    const { evaluation } = await evaluations.submit(team, fresh());
    const { computationId } = evaluation;
    await computations.claim(computationId, 'a');
    const outcomes = Array.from({ length: 10 }, (_, i) => ({ result: sampleResult({ massG: 300 + i }), files: [graph] }));
    const stored = await Promise.all(outcomes.map((outcome) => computations.finish(computationId, outcome)));
    expect(stored.filter(Boolean)).toHaveLength(1);
    const done = await evaluations.get(team, evaluation.id);
    const massG = 300 + stored.indexOf(true);
    expect(done).toMatchObject({ status: 'done', stage: null, progressPct: 100, error: null, quantities: { massG } });
    expect(done?.result).toEqual(sampleResult({ massG }));
    expect(await files.list(team, evaluation.id)).toHaveLength(1);
    const file = await files.get(team, evaluation.id, 'graph.json');
    expect(file).toMatchObject({ mediaType: 'application/json', size: graph.content.length });
    expect(gunzipSync(file!.gzip).toString()).toBe(graph.content);
  });

  test('every number of the result that history knows is copied, the least where there are several, null where there is none', async () => {
    const { evaluations } = here.records;
    const team = await newTeam(here.records);
    const id = await evaluated(here.records, team, fresh());
    const { quantities } = (await evaluations.get(team, id))!;
    expect(quantities.minCellOpeningMm).toBe(5.5);
    const mechanics = QUANTITIES.filter((name) => quantities[name] === null);
    expect(mechanics).toEqual(
      QUANTITIES.filter((name) => /stiffness|rebound|restitution|peakForce|initialN|contactTime|cycles/.test(name)),
    );
  });

  test('a run that failed on its way keeps its numbers and files beside the error, and no filter takes them for a whole result', async () => {
    const { evaluations, computations, files } = here.records;
    const team = await newTeam(here.records);
    const submission = fresh();
    const { evaluation } = await evaluations.submit(team, submission);
    await computations.claim(evaluation.computationId, 'a');
    const error = { code: 'bottoms-out', message: 'The part bottoms out.' };
    const partial = { result: sampleResult({ massG: 311 }), files: [graph] };
    expect(await computations.fail(evaluation.computationId, { error, retryable: false, partial })).toBe(true);
    for (const failed of [await evaluations.get(team, evaluation.id), (await evaluations.submit(team, submission)).evaluation]) {
      expect(failed).toMatchObject({ status: 'failed', error, result: partial.result, verdict: null });
      expect(Object.values(failed!.quantities).every((value) => value === null)).toBe(true);
    }
    expect(await files.list(team, evaluation.id)).toHaveLength(1);
    const heavy = { limit: 5, cursor: null, filters: [{ quantity: 'massG' as const, op: 'gte' as const, value: 0 }] };
    expect((await evaluations.list(team, heavy)).items).toEqual([]);
  });

  test('an evaluation submitted while the result is being stored is done too', async () => {
    const { evaluations, computations } = here.records;
    const team = await newTeam(here.records);
    for (let round = 0; round < 20; round++) {
      const submission = fresh();
      const { evaluation } = await evaluations.submit(team, submission);
      const other = (revision: number) => ({
        ...submission,
        input: { ...submission.input, material: { ...submission.input.material, revision } },
      });
      const [, ...late] = await Promise.all([
        computations.finish(evaluation.computationId, { result: sampleResult(), files: [] }),
        evaluations.submit(team, other(2)),
        evaluations.submit(team, other(3)),
      ]);
      for (const { evaluation } of late)
        expect(await evaluations.get(team, evaluation.id)).toMatchObject({ status: 'done', verdict: 'pass' });
    }
  });

  test('a finished computation cannot be claimed, failed, progressed or released', async () => {
    const { evaluations, computations } = here.records;
    const team = await newTeam(here.records);
    const id = await evaluated(here.records, team, fresh());
    const { computationId } = (await evaluations.get(team, id))!;
    expect(await computations.claim(computationId, 'b')).toBeNull();
    expect(await computations.fail(computationId, { error: { code: 'x', message: 'x' }, retryable: true })).toBe(false);
    await computations.progress(computationId, { stage: 'mass', progressPct: 1 });
    expect(await computations.release(computationId)).toBe(false);
    expect(await computations.cancelled(computationId)).toBeNull();
    expect(await evaluations.get(team, id)).toMatchObject({ status: 'done', progressPct: 100 });
  });
});

describe('running', () => {
  test('a claim gives the input, counts attempts and shows in the evaluation, as progress does', async () => {
    const { evaluations, computations } = here.records;
    const team = await newTeam(here.records);
    const submission = fresh();
    const { evaluation } = await evaluations.submit(team, submission);
    expect(evaluation).toMatchObject({ status: 'queued', startedAt: null, progressPct: 0 });
    const claim = await computations.claim(evaluation.computationId, 'a');
    expect(claim).toEqual({
      computationId: evaluation.computationId,
      kind: 'evaluation',
      keepsFiles: true,
      teamId: team,
      input: submission.input,
      inputHash: submission.inputHash,
      engineVersion: submission.engineVersion,
      attempts: 1,
    });
    expect((await computations.claim(evaluation.computationId, 'b'))?.attempts).toBe(2);
    expect(await computations.progress(evaluation.computationId, { stage: 'mass', progressPct: 40 })).toEqual({ cancelRequested: false });
    expect(await evaluations.get(team, evaluation.id)).toMatchObject({ status: 'running', stage: 'mass', progressPct: 40 });
  });

  test('a released run is queued again and its attempt not charged', async () => {
    const { evaluations, computations } = here.records;
    const team = await newTeam(here.records);
    const { evaluation } = await evaluations.submit(team, fresh());
    await computations.claim(evaluation.computationId, 'a');
    expect(await computations.release(evaluation.computationId)).toBe(true);
    expect(await evaluations.get(team, evaluation.id)).toMatchObject({ status: 'queued', stage: null, progressPct: 0 });
    expect((await computations.claim(evaluation.computationId, 'a'))?.attempts).toBe(1);
  });

  test('stale are the queued and the silent, not the lively and the finished', async () => {
    const { evaluations, computations } = here.records;
    const team = await newTeam(here.records);
    const submitted = [];
    for (let i = 0; i < 4; i++) submitted.push((await evaluations.submit(team, fresh())).evaluation.computationId);
    const [queued, silent, lively, finished] = submitted;
    for (const id of [silent, lively, finished]) await computations.claim(id, 'a');
    await computations.finish(finished, { result: sampleResult(), files: [] });
    await new Promise((resolve) => setTimeout(resolve, 300));
    await computations.heartbeat([lively, finished]);
    const stale = await computations.stale({ queuedMs: 250, silentMs: 250 });
    expect(submitted.filter((id) => stale.includes(id))).toEqual([queued, silent]);
    expect(await computations.stale({ queuedMs: 60_000, silentMs: 60_000 })).toEqual([]);
  });
});

describe('failing', () => {
  const error = { code: 'out-of-memory', message: 'The run needed more memory than it may have' };

  test.each([
    ['a retryable failure is computed again', true, 'queued'],
    ['a failure of the input itself is answered again', false, 'failed'],
  ])('%s when the same is submitted again', async (_, retryable, status) => {
    const { evaluations, computations } = here.records;
    const team = await newTeam(here.records);
    const submission = fresh();
    const { evaluation } = await evaluations.submit(team, submission);
    await computations.claim(evaluation.computationId, 'a');
    await computations.fail(evaluation.computationId, { error, retryable });
    expect(await evaluations.get(team, evaluation.id)).toMatchObject({ status: 'failed', error, result: null });
    const again = await evaluations.submit(team, submission);
    expect(again.evaluation).toMatchObject({ id: evaluation.id, status, finishedAt: retryable ? null : expect.any(Date) });
    expect(again.evaluation.error).toEqual(retryable ? null : error);
    expect(again.dispatch).toBe(retryable ? evaluation.computationId : null);
  });
});
