import { setTimeout as pause } from 'node:timers/promises';
import type { Calibration, Evaluation, EvaluationRequest, Search, StrutwrightClient } from '../../openapi/index.ts';
import { type Answer, answered } from './answer.ts';
import type { Progress } from './progress.ts';

/** What takes the service a while. */
interface Work {
  id: string;
  status: string;
}
export interface Followed<T> {
  last: T;
  /** Times it was asked for, and how many of the answers were 304: nothing new, no body. */
  asked: number;
  unchanged: number;
  seconds: number;
}

export interface Watched {
  progress: Progress;
  /** Aborted when nobody waits any more. */
  signal: AbortSignal;
}

const PAUSE_MS = 60;
/** A version takes seconds: after so long without a change something is wrong, and waiting on would hide it. */
const MOST_S_WITHOUT_NEWS = 60;

/** Posts an evaluation and follows it until it is done. Throws the reason when it fails. */
export async function evaluate(client: StrutwrightClient, body: EvaluationRequest, watched: Watched) {
  const posted = answered(await client.POST('/v1/evaluations', { body })) as Evaluation;
  const path = { params: { path: { id: posted.id } } };
  const followed = await follow(
    posted,
    {
      ask: (headers) => client.GET('/v1/evaluations/{id}', { ...path, headers }) as Promise<Answer<Evaluation>>,
      far: ({ stage, status, progressPct }) => [stage ?? status, progressPct],
    },
    watched,
  );
  const { status, result, error } = followed.last;
  if (status !== 'done' || !result) throw new Error(`The evaluation ended ${status}: ${error?.message ?? 'no reason given'}`);
  return { ...followed, evaluation: { ...followed.last, result } };
}

/** Follows a search until it has ended. */
export const followSearch = (client: StrutwrightClient, posted: Search, watched: Watched): Promise<Followed<Search>> =>
  follow(
    posted,
    {
      ask: (headers) => client.GET('/v1/searches/{id}', { params: { path: { id: posted.id } }, headers }) as Promise<Answer<Search>>,
      far: ({ status, progress: { evaluations, budget, bestMissPct } }) => [
        `${evaluations} tried${bestMissPct === null ? '' : `, the nearest misses by ${Number(bestMissPct.toPrecision(2))} %`}`,
        status === 'done' ? 100 : (100 * evaluations) / budget,
      ],
    },
    watched,
  );

/** Follows a calibration until it is done. Throws the reason when it fails. */
export async function followCalibration(client: StrutwrightClient, posted: Calibration, watched: Watched) {
  const path = { params: { path: { id: posted.id } } };
  const { last, seconds } = await follow(
    posted,
    {
      ask: (headers) => client.GET('/v1/calibrations/{id}', { ...path, headers }) as Promise<Answer<Calibration>>,
      far: ({ stage, status, progressPct }) => [stage ?? status, progressPct],
    },
    watched,
  );
  if (!last.result) throw new Error(`The calibration ended ${last.status}: ${last.error?.message ?? 'no reason given'}`);
  return { result: last.result, seconds };
}

interface Way<T> {
  ask(headers: { 'if-none-match': string }): Promise<Answer<T>>;
  /** What it is at, and how many per cent are done. */
  far(work: T): [stage: string, pct: number];
}

/** Asks for something, with the ETag of the answer before, until it is no longer under way. */
async function follow<T extends Work>(posted: T, { ask, far }: Way<T>, { progress, signal }: Watched): Promise<Followed<T>> {
  const began = performance.now();
  let last = posted;
  let [asked, unchanged, etag] = [0, 0, ''];
  let newsAt = began;
  try {
    while (last.status === 'queued' || last.status === 'running') {
      progress.show(...far(last));
      await pause(PAUSE_MS, undefined, { signal });
      const answer = await ask({ 'if-none-match': etag });
      asked += 1;
      if (answer.response.status === 304) {
        unchanged += 1;
        if (performance.now() - newsAt > 1000 * MOST_S_WITHOUT_NEWS) throw new Error(silence(...far(last)));
      } else {
        last = answered(answer);
        newsAt = performance.now();
      }
      etag = answer.response.headers.get('etag') ?? '';
    }
    progress.show(...far(last));
  } finally {
    progress.end();
  }
  return { last, asked, unchanged, seconds: (performance.now() - began) / 1000 };
}

const silence = (stage: string, pct: number) =>
  `For ${MOST_S_WITHOUT_NEWS} s there has been no news: ${stage}, ${Math.round(pct)} % done. Does the worker run?`;
