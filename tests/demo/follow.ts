import { setTimeout as pause } from 'node:timers/promises';
import type { Evaluation, EvaluationRequest, StrutwrightClient } from '../../openapi/index.ts';
import { answered } from './answer.ts';
import type { Progress } from './progress.ts';

export interface Followed {
  evaluation: Evaluation & { result: NonNullable<Evaluation['result']> };
  seconds: number;
  /** Times it was asked for, and how many of the answers were 304: nothing new, no body. */
  asked: number;
  unchanged: number;
}

interface Watched {
  progress: Progress;
  /** Aborted when nobody waits any more. */
  signal: AbortSignal;
}

const PAUSE_MS = 60;
/** A version takes seconds: after so long without a change something is wrong, and waiting on would hide it. */
const MOST_S_WITHOUT_NEWS = 60;

/** Posts an evaluation and asks for it, with the ETag of the answer before, until it is done. Throws the reason when it fails. */
export async function evaluate(client: StrutwrightClient, body: EvaluationRequest, watched: Watched): Promise<Followed> {
  const began = performance.now();
  const posted = answered(await client.POST('/v1/evaluations', { body }));
  const followed = await follow(client, posted as Evaluation, watched);
  return { ...followed, seconds: (performance.now() - began) / 1000 };
}

async function follow(client: StrutwrightClient, posted: Evaluation, { progress, signal }: Watched): Promise<Omit<Followed, 'seconds'>> {
  const path = { params: { path: { id: posted.id } } };
  let evaluation = posted;
  let [asked, unchanged, etag] = [0, 0, ''];
  let newsAt = performance.now();
  try {
    while (isUnderWay(evaluation)) {
      progress.show(evaluation.stage ?? evaluation.status, evaluation.progressPct);
      await pause(PAUSE_MS, undefined, { signal });
      const answer = await client.GET('/v1/evaluations/{id}', { ...path, headers: { 'if-none-match': etag } });
      asked += 1;
      if (answer.response.status === 304) {
        unchanged += 1;
        if (performance.now() - newsAt > 1000 * MOST_S_WITHOUT_NEWS) throw new Error(silence(evaluation));
      } else {
        evaluation = answered(answer) as Evaluation;
        newsAt = performance.now();
      }
      etag = answer.response.headers.get('etag') ?? '';
    }
    progress.show(evaluation.status, evaluation.progressPct);
  } finally {
    progress.end();
  }
  const { status, result, error } = evaluation;
  if (status !== 'done' || !result) throw new Error(`The evaluation ended ${status}: ${error?.message ?? 'no reason given'}`);
  return { evaluation: { ...evaluation, result }, asked, unchanged };
}

const isUnderWay = ({ status }: Evaluation) => status === 'queued' || status === 'running';

const silence = ({ status, progressPct }: Evaluation) =>
  `For ${MOST_S_WITHOUT_NEWS} s there has been no news of the evaluation: it is ${status}, ${progressPct} % done. Does the worker run?`;
